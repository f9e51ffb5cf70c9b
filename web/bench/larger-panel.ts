import { createLongWork } from './long-work.ts';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import { h, put } from '../ui/dom.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { chance } from '../stage/verdict/readouts.ts';
import { createBenchClient } from './bench-client.ts';
import type { Larger } from './bench-messages.ts';

export interface LargerCallbacks {
  readonly raw: () => RawDesign;
  readonly onOpen: (raw: RawDesign) => void;
}

/** The design in the planning view in another size: what becomes of the window. */
export function createLargerPanel({ raw, onOpen }: LargerCallbacks): {
  readonly node: HTMLElement;
  refresh(): void;
} {
  const lane = createBenchClient();
  let of: RawDesign | undefined;
  const side = (id: string) => h('input', { id, type: 'number', min: 1, step: 1, required: true });
  const rows = side('bench-next-rows');
  const columns = side('bench-next-columns');
  const about = h('p', { class: 'note' });
  const start = h('button', { type: 'submit' }, 'Predict');
  const work = createLongWork({ lane, start, name: 'Predicting', cancelled: 'Cancelled.' });
  const output = h('div', { class: 'bench-output', hidden: true });
  const form = h(
    'form',
    {
      class: 'place',
      'aria-label': 'Size of the next build',
      submit: (event: Event) => {
        event.preventDefault();
        predict();
      },
    },
    h('div', { class: 'field narrow' }, h('label', { for: rows.id }, 'Rows'), rows),
    h('div', { class: 'field narrow' }, h('label', { for: columns.id }, 'Columns'), columns),
    start,
    work.cancel,
  );
  const node = h(
    'section',
    { class: 'bench-section', 'aria-labelledby': 'bench-larger' },
    h('h2', { id: 'bench-larger' }, 'Predict the next build'),
    about,
    form,
    work.row,
    output,
  );

  function predict(): void {
    const now = raw();
    work.begin('Looking for the worst cases of both sizes.');
    output.classList.toggle('stale', !output.hidden);
    lane.ask(
      'larger',
      { raw: now, rows: Number(rows.value), columns: Number(columns.value) },
      {
        onAnswer: (answer) => {
          work.end();
          of = now;
          show(answer);
        },
        onFailed: ({ message }) => {
          work.end();
          work.say('error', message);
        },
      },
    );
  }

  function show(answer: Larger): void {
    const { next } = answer;
    const { window } = next;
    work.say(window.strobe ? 'ok' : 'warning', largerWords(answer));
    output.hidden = false;
    output.classList.remove('stale');
    put(
      output,
      h(
        'div',
        { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': 'Both sizes' },
        bothTable(answer),
      ),
      h(
        'div',
        { class: 'button-row' },
        h('button', { type: 'button', click: () => onOpen(answer.raw) }, 'Open it in the planning view'),
      ),
    );
  }

  return {
    node,
    refresh() {
      const now = raw();
      let design: Design | undefined;
      try {
        design = checkDesign(now);
      } catch {
        // Told beside the fields of the planning view.
      }
      start.disabled = lane.busy || design === undefined;
      if (design) {
        const { mat } = design;
        const fitted = design.note.includes('Fitted: ') ? ', as fitted' : '';
        put(
          about,
          `From ${String(rawAt(now, '/name') ?? 'the design')} in the planning view${fitted}, ${mat.rows} × ${mat.columns}, with its strobe and threshold.`,
        );
        if (rows.value === '') rows.value = String(2 * mat.rows);
        if (columns.value === '') columns.value = String(2 * mat.columns);
      }
      const stale = of !== undefined && of !== now && !lane.busy;
      output.classList.toggle('stale', stale);
      if (stale) work.say('stale', 'Stale: of the design before. Predict again.');
    },
  };
}

/** What becomes of the window, in one or two sentences. */
export function largerWords({ now, next }: Larger): string {
  const size = `${next.rows} × ${next.columns}`;
  if (!next.window.strobe) return `At ${size} there is no window: ${next.window.reason ?? 'it is closed'}`;
  const width = formatQuantity(next.window.strobe.width, 's');
  const before = now.window.strobe
    ? `, against ${formatQuantity(now.window.strobe.width, 's')} at ${now.rows} × ${now.columns}`
    : `; at ${now.rows} × ${now.columns} there is none`;
  return `At ${size} the window is ${width} wide${before}.`;
}

const least = ({ margin }: StrobeWindow): string => formatQuantity(Math.min(margin.one, margin.zero), 'V');

const ROWS: readonly (readonly [string, (window: StrobeWindow) => string])[] = [
  [
    'Window',
    ({ strobe }) =>
      strobe ? `${formatQuantity(strobe.start, 's')} to ${formatQuantity(strobe.end, 's')}` : 'none',
  ],
  ['Window width', ({ strobe }) => (strobe ? formatQuantity(strobe.width, 's') : 'none')],
  ['Strobe in force', ({ inForce }) => formatQuantity(inForce.time, 's')],
  ['Threshold in force', ({ inForce }) => formatQuantity(inForce.threshold, 'V')],
  ['Margin', least],
  [
    'Thresholds that pass',
    ({ threshold }) =>
      threshold ? `${formatQuantity(threshold.low, 'V')} to ${formatQuantity(threshold.high, 'V')}` : 'none',
  ],
  [
    'Best strobe and threshold',
    ({ bestPair }) =>
      bestPair ? `${formatQuantity(bestPair.time, 's')}, ${formatQuantity(bestPair.threshold, 'V')}` : 'none',
  ],
  ['Chance of a wrong bit', ({ errorChance }) => chance(errorChance)],
];

function bothTable({ now, next }: Larger): HTMLElement {
  return h(
    'table',
    {},
    h('caption', {}, 'The same design in both sizes'),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        h('td', {}),
        ...[now, next].map(({ rows, columns }) => h('th', { scope: 'col' }, `${rows} × ${columns}`)),
      ),
    ),
    h(
      'tbody',
      {},
      ...ROWS.map(([name, read]) =>
        h(
          'tr',
          {},
          h('th', { scope: 'row' }, name),
          h('td', {}, read(now.window)),
          h('td', {}, read(next.window)),
        ),
      ),
    ),
  );
}
