import type { Advice } from '../../engine/advice/advice.ts';
import { applyChange, type Change } from '../../engine/advice/changes.ts';
import { beyondAdvice, judgedOver, changeValueText, perUnitText } from '../../engine/advice/words.ts';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { readQuantity } from '../../engine/base/units.ts';
import type { Design, Requirement } from '../../engine/design/design.ts';
import { h, put, s } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createSideClient } from '../compute/side-client.ts';
import { showValue } from '../ui/typing.ts';
import { createMore } from '../sharing/more.ts';

export interface AdviceCallbacks {
  /** The reader takes a change: from the design asked about to the changed one. */
  readonly onTake: (from: Design, to: Design) => void;
}

export interface AdviceView {
  readonly node: HTMLElement;
  /** `key`: equal as long as strobe, threshold and all that was asked about are the same. */
  update(design: Design | undefined, key: string): void;
}

const volts = (value: number): string => formatQuantity(value, 'V', 3);
const seconds = (value: number): string => formatQuantity(value, 's', 3);

/** What uses the margin up and what single change would bring it back: asked for, since it takes many runs. */
export function createAdviceView(callbacks: AdviceCallbacks): AdviceView {
  const client = createSideClient();
  let design: Design | undefined;
  let key = '';
  let answered: { readonly design: Design; readonly key: string; readonly advice: Advice } | undefined;
  let askedKey: string | undefined;

  const field = (id: string, label: string) => {
    const message = h('p', { class: 'field-error', id: `${id}-error`, hidden: true });
    const input = h('input', {
      id,
      type: 'text',
      autocomplete: 'off',
      spellcheck: 'false',
      'aria-describedby': message.id,
    });
    const node = h('div', { class: 'field' }, h('label', { for: id }, label), input, message);
    return { input, message, node };
  };
  const margin = field('wanted-margin', 'Wanted margin');
  const width = field('wanted-width', 'Wanted width');
  const start = h('button', { type: 'button', click: () => ask() }, 'Work it out');
  const cancel = h('button', { type: 'button', hidden: true, click: () => stop() }, 'Cancel');
  const bar = h('progress', { 'aria-label': 'Parts worked out', hidden: true });
  const status = h('p', { class: 'status', role: 'status' });
  const output = h('div', { class: 'advice' });
  const more = createMore(
    'What uses it up, and what to change',
    () => undefined,
    h(
      'p',
      { class: 'note' },
      'Every input is moved a little and every pattern that counts is run again; then the smallest change of each single input that reaches the wanted margin and width is sought. Half a minute or so.',
    ),
    h('div', { class: 'place' }, margin.node, width.node, start, cancel),
    h('div', { class: 'status-row' }, status, bar),
    output,
  );

  function wantedNow(): Requirement | undefined {
    const read = (from: typeof margin, unit: 'V' | 's'): number | undefined => {
      const reading = readQuantity(from.input.value, unit);
      const fault = reading.ok
        ? reading.value < 0
          ? 'This must not be below zero.'
          : undefined
        : `This must be a ${unit === 's' ? 'time' : 'voltage'} with its unit, but it ${reading.why}.`;
      from.message.hidden = fault === undefined;
      from.input.setAttribute('aria-invalid', String(fault !== undefined));
      put(from.message, icon('error'), fault ?? '');
      return fault === undefined && reading.ok ? reading.value : undefined;
    };
    const [v, t] = [read(margin, 'V'), read(width, 's')];
    return v === undefined || t === undefined ? undefined : { margin: v, width: t };
  }

  function ask(): void {
    const wanted = wantedNow();
    if (!design || !wanted) return;
    const asked = { design, key };
    client.cancel();
    askedKey = key;
    running(true);
    put(status, icon('busy'), 'Starting.');
    client.ask(
      'advice',
      { design, wanted },
      {
        onPiece: ({ done, total, next }) => {
          bar.max = total;
          bar.value = done;
          put(status, icon('busy'), `Part ${done + 1} of ${total}: ${next}.`);
        },
        onAnswer: (advice) => {
          running(false);
          answered = { ...asked, advice };
          show();
        },
        onFailed: ({ message }) => {
          running(false);
          put(status, icon('error'), message);
        },
      },
    );
  }

  function running(on: boolean): void {
    start.disabled = on;
    cancel.hidden = bar.hidden = !on;
    if (on) bar.removeAttribute('value');
    else askedKey = undefined;
  }

  function stop(): void {
    client.cancel();
    running(false);
    put(status, icon('warning'), 'Cancelled.');
  }

  function show(): void {
    if (!answered) return;
    const { advice } = answered;
    const old = answered.key !== key;
    output.classList.toggle('stale', old);
    put(status, ...(old ? [icon('stale'), 'Stale: worked out for the inputs before.'] : verdict(advice)));
    if (advice.failed !== undefined) return put(output);
    put(output, costTable(advice), changesPart(answered.design, advice, callbacks.onTake));
  }

  return {
    node: more.node,
    update(next, nextKey) {
      const wanted = next?.requirement;
      const before = design?.requirement;
      if (wanted && (before?.margin !== wanted.margin || before.width !== wanted.width)) {
        showValue(margin.input, formatQuantity(wanted.margin, 'V', 6));
        showValue(width.input, formatQuantity(wanted.width, 's', 6));
      }
      design = next ?? design;
      if (key === nextKey) return;
      key = nextKey;
      start.disabled = askedKey !== undefined || !next;
      // Work for inputs that are gone is not worth ending.
      if (askedKey !== undefined && askedKey !== key) stop();
      show();
    },
  };
}

function verdict({ failed, met, has, wanted, changes }: Advice): (Node | string)[] {
  if (failed !== undefined)
    return [icon('error'), `Nothing to advise on: this run could not be computed: ${failed}.`];
  const asked = `${volts(wanted.margin)} of margin and a window of ${seconds(wanted.width)}`;
  const there = `${volts(has.margin)} and ${seconds(has.width)}`;
  if (met) return [icon('ok'), `${asked} are there: the design has ${there}.`];
  const lacking = [
    has.margin < wanted.margin && `margin by ${volts(wanted.margin - has.margin)}`,
    has.width < wanted.width && `width by ${seconds(wanted.width - has.width)}`,
    has.width === 0 && 'the strobe lies in no window',
  ]
    .filter(Boolean)
    .join(', ');
  const reach = changes.filter(({ to }) => to !== undefined).length;
  const ways =
    reach === 0
      ? 'No single change reaches it.'
      : reach === 1
        ? 'One single change reaches it.'
        : `${reach} single changes reach it.`;
  return [
    icon('error'),
    `Not met: wanted are ${asked}; the design has ${there}. Short of it: ${lacking}. ${ways}`,
  ];
}

const head = (...names: readonly string[]) =>
  h('thead', {}, h('tr', {}, ...names.map((name) => (name ? h('th', { scope: 'col' }, name) : h('td', {})))));

const scrolling = (name: string, table: HTMLTableElement) =>
  h('div', { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': name }, table);

/** Beside its number, hence without words of its own. */
const shareBar = (part: number): SVGSVGElement =>
  s(
    'svg',
    { viewBox: '0 0 100 10', width: 100, height: 10, 'aria-hidden': 'true' },
    s('rect', { width: 100, height: 10, class: 'ground' }),
    s('rect', { width: Math.max(0, Math.min(1, part)) * 100, height: 10, class: 'share-bar' }),
  );

function costTable({ costs }: Advice): HTMLElement {
  const most = Math.max(1e-12, ...costs.map(({ takes }) => takes));
  const row = (cost: Advice['costs'][number], i: number) =>
    h(
      'tr',
      {},
      h('td', {}, i + 1),
      h('th', { scope: 'row' }, cost.label),
      h('td', {}, perUnitText(cost.onePerUnit, 'V', cost.unit)),
      h('td', {}, perUnitText(cost.zeroPerUnit, 'V', cost.unit)),
      h('td', {}, perUnitText(cost.widthPerUnit, 's', cost.unit)),
      h('td', {}, cost.takes === 0 ? 'none stated' : volts(cost.takes)),
      h('td', {}, shareBar(cost.takes / most)),
    );
  return h(
    'section',
    {},
    h('h3', {}, 'What uses it up'),
    scrolling(
      'What each input costs',
      h(
        'table',
        {},
        h('caption', {}, 'Ranked by the margin that each stated tolerance takes; gains are positive.'),
        head('', 'Input', 'margin of a ONE', 'margin of a ZERO', 'width', 'its tolerance takes', ''),
        h('tbody', {}, ...costs.map(row)),
      ),
    ),
  );
}

function changesPart(design: Design, advice: Advice, onTake: AdviceCallbacks['onTake']): HTMLElement {
  if (advice.met)
    return h(
      'section',
      {},
      h('h3', {}, 'What to change'),
      h(
        'p',
        {},
        `Over ${judgedOver(advice)} nothing need change for what is wanted. ${beyondAdvice(advice)}`,
      ),
    );
  const row = (change: Change, i: number) => {
    const { label, from, to, at, unit, gives } = change;
    const result = Number.isFinite(gives.margin)
      ? `${volts(gives.margin)}, ${seconds(gives.width)}`
      : 'refused by the check';
    const best = at === undefined ? '' : `at best, at ${changeValueText(at, unit)}: `;
    return h(
      'tr',
      {},
      h('td', {}, to === undefined ? '' : i + 1),
      h('th', { scope: 'row' }, label),
      h('td', {}, changeValueText(from, unit)),
      h(
        'td',
        { class: 'words' },
        ...(to === undefined
          ? [icon('error'), 'not by this alone']
          : [icon('ok'), changeValueText(to, unit)]),
      ),
      h('td', { class: 'words' }, to === undefined ? `${best}${result}` : result),
      h(
        'td',
        {},
        to !== undefined &&
          h(
            'button',
            {
              type: 'button',
              'aria-label': `Make this change: ${label}`,
              click: () => onTake(design, applyChange(design, change)),
            },
            'Make it',
          ),
      ),
    );
  };
  return h(
    'section',
    {},
    h('h3', {}, 'What to change'),
    scrolling(
      'Changes',
      h(
        'table',
        { class: 'changes' },
        h('caption', {}, 'The smallest change of each single input, smallest first.'),
        head('', 'Input', 'from', 'to', 'gives margin, width', ''),
        h('tbody', {}, ...advice.changes.map(row)),
      ),
    ),
  );
}
