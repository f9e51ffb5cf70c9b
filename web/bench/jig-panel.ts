import { checkHandbook } from '../../engine/core/handbook/check-handbook.ts';
import {
  readCores,
  withCore,
  withoutCore,
  writeCores,
  type OwnCore,
} from '../../engine/core/handbook/core-list.ts';
import type { CoreReport } from '../../engine/core/handbook/core-report.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { RawDesign } from '../model/pointer.ts';
import { saveFile } from '../sharing/save.ts';
import { createBenchClient } from './bench-client.ts';
import { createCoreStore } from './core-store.ts';
import type { BenchState } from './bench-state.ts';
import { createJigCaptures } from './jig-captures.ts';
import { createJigFields, INVENTED_CORE, JIG_SETTINGS } from './jig-fields.ts';
import { jigChart, jigResultNodes } from './jig-result.ts';
import { textSize } from './text-size.ts';

/** Bytes: a core is some hundred. */
const MAX_CORE_LIST = 5_000_000;

export interface JigCallbacks {
  /** Puts a core into the design of the planning view. */
  readonly onUse: (core: RawDesign) => void;
}

/** The core of a design as measured on a jig. */
export const designCore = ({ name, handbook }: OwnCore): RawDesign => ({
  name,
  source: 'measured on one core alone',
  handbook,
});

/** One core on two wires: from what was read of it to the parameters of a design, and the reader's own list. */
export function createJigPanel(
  bench: BenchState,
  { onUse }: JigCallbacks,
): { readonly node: HTMLElement; refresh(): void } {
  const lane = createBenchClient();
  const store = createCoreStore(() => localStorage);
  let cores = store.load();
  let found: { readonly core: OwnCore; readonly report: CoreReport } | undefined;
  const fields = createJigFields();
  const captures = createJigCaptures(bench, {
    rise: () => String(fields.handbook()['rise'] ?? ''),
    onRead: (values) => fields.readOff(values),
    onSample: () => fields.fill('core from the jig', JIG_SETTINGS),
  });
  const status = h('p', { class: 'status', role: 'status' });
  const output = h('div', { class: 'bench-output', hidden: true });
  const plot = h('div', { class: 'plot' });
  const list = h('div', {});
  const told = h('p', { class: 'status', role: 'status' });
  const file = h('input', {
    type: 'file',
    id: 'jig-list',
    accept: '.json,application/json',
    class: 'visually-hidden',
    change: () => void openList(),
  });
  const form = h(
    'form',
    {
      'aria-label': 'One core alone',
      class: 'bench-body',
      submit: (event: Event) => {
        event.preventDefault();
        compute();
      },
    },
    fields.node,
    captures.node,
    h(
      'div',
      { class: 'button-row' },
      h('button', { type: 'submit' }, 'Find its parameters'),
      h(
        'button',
        { type: 'button', click: () => fields.fill('invented core', INVENTED_CORE) },
        'Fill in an invented core',
      ),
    ),
  );
  const node = h(
    'section',
    { class: 'bench-section', 'aria-labelledby': 'bench-jig' },
    h('h2', { id: 'bench-jig' }, 'One core alone'),
    h(
      'p',
      { class: 'note' },
      'Measured on one core with two drive wires and a sense wire: what it answers gives its parameters.',
    ),
    form,
    h('div', { class: 'status-row' }, status),
    output,
    h('h3', {}, 'My cores'),
    list,
    h(
      'div',
      { class: 'button-row' },
      h(
        'button',
        { type: 'button', click: () => saveFile('my-cores.json', 'application/json', writeCores(cores)) },
        'Save the list',
      ),
      h('label', { class: 'file-button', for: 'jig-list' }, file, 'Open a list'),
    ),
    told,
  );

  function compute(): void {
    fields.clear();
    const core = { name: fields.name(), handbook: fields.handbook() };
    put(status, icon('busy'), 'Looking for the core that answers so.');
    output.classList.toggle('stale', found !== undefined);
    const refuse = (message: string, field: string): void => {
      found = undefined;
      output.hidden = true;
      const beside = fields.refuse(field, message);
      put(status, icon('error'), beside ? 'No parameters: see the field.' : message);
    };
    try {
      checkHandbook(core.handbook);
    } catch (error) {
      const { message, field } = error as { message: string; field?: string };
      return refuse(message, field ?? '');
    }
    lane.ask(
      'core',
      { handbook: core.handbook },
      {
        onAnswer: (report) => {
          found = { core, report };
          put(status, icon('ok'), `Parameters of ${core.name} are found.`);
          show();
        },
        onFailed: ({ message, field }) => refuse(message, field),
      },
    );
  }

  function show(): void {
    const { core, report } = found!;
    output.hidden = false;
    output.classList.remove('stale');
    put(
      output,
      plot,
      ...jigResultNodes(report),
      h(
        'div',
        { class: 'button-row' },
        h('button', { type: 'button', click: () => use(core) }, 'Use it in the design'),
        h(
          'button',
          { type: 'button', click: () => keep(withCore(cores, core), `${core.name} is in your list.`) },
          'Keep it in my list',
        ),
      ),
    );
    draw();
  }

  function draw(): void {
    if (!found || node.clientWidth === 0) return;
    put(
      plot,
      jigChart(found.report, Math.min(760 * textSize(), Math.max(220, plot.clientWidth)), textSize()),
    );
  }

  function use(core: OwnCore): void {
    onUse(designCore(core));
    put(
      told,
      icon('ok'),
      `The design in the planning view now has ${core.name}; Undo there brings back the one before.`,
    );
  }

  function keep(next: readonly OwnCore[], words: string): void {
    cores = next;
    if (store.save(cores)) put(told, icon('ok'), words);
    else
      put(
        told,
        icon('warning'),
        `${words} The browser does not keep it beyond this page: save the list as a file.`,
      );
    showList();
  }

  async function openList(): Promise<void> {
    const chosen = file.files?.[0];
    file.value = '';
    if (!chosen) return;
    if (chosen.size > MAX_CORE_LIST)
      return put(
        told,
        icon('error'),
        `${chosen.name} must be a list of cores of at most ${MAX_CORE_LIST / 1e6} MB; it has ${Math.round(chosen.size / 1e6)} MB. Your list was left as it is.`,
      );
    const opened = readCores(await chosen.text());
    if (!opened)
      return put(
        told,
        icon('error'),
        `${chosen.name} is not a list of cores: it must be a file saved here, or a handbook file of one core. Your list was left as it is.`,
      );
    keep(
      [...opened].reverse().reduce(withCore, cores),
      `${opened.length === 1 ? 'One core' : `${opened.length} cores`} of ${chosen.name} ${opened.length === 1 ? 'is' : 'are'} in your list.`,
    );
  }

  function showList(): void {
    if (cores.length === 0)
      return put(
        list,
        h('p', { class: 'note' }, 'None kept yet. They stay in this browser only; save the list to move it.'),
      );
    const rows = cores.map((core) => {
      const button = (text: string, act: () => void) =>
        h('button', { type: 'button', 'aria-label': `${text}: ${core.name}`, click: act }, text);
      return h(
        'tr',
        {},
        h('th', { scope: 'row' }, core.name),
        h(
          'td',
          {},
          `${String(core.handbook['peakOne'] ?? '')} at ${String(core.handbook['peakTime'] ?? '')}`,
        ),
        h(
          'td',
          {},
          h(
            'span',
            { class: 'button-row' },
            button('Use', () => use(core)),
            button('Edit', () => {
              fields.fill(core.name, core.handbook);
              document.getElementById('jig-name')?.focus();
            }),
            button('Remove', () =>
              keep(withoutCore(cores, core.name), `${core.name} was taken out of your list.`),
            ),
          ),
        ),
      );
    });
    put(
      list,
      h(
        'div',
        { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': 'My cores' },
        h(
          'table',
          {},
          h(
            'thead',
            {},
            h(
              'tr',
              {},
              h('th', { scope: 'col' }, 'Core'),
              h('th', { scope: 'col' }, 'uV1 at t_p'),
              h('td', {}),
            ),
          ),
          h('tbody', {}, ...rows),
        ),
      ),
    );
  }

  showList();
  return {
    node,
    refresh() {
      captures.refresh();
      draw();
    },
  };
}
