import { h, put } from '../ui/dom.ts';
import { rowsToShow, type ChartData } from './chart-data.ts';
import type { FileKind } from './chart-files.ts';
import { saveChart } from './save.ts';
import { inUnitsOfPlot } from './units-of-plot.ts';

export interface Behind {
  readonly node: HTMLDetailsElement;
  /** `data` is asked for only when the reader opens the table or saves a file. */
  update(data: () => ChartData): void;
}

const ROWS = 60;

/** What stands behind a chart, one click away: its summary in words, its numbers as a table, and files. */
export function createBehind(title: string, mark = 'In words, as a table, as a file'): Behind {
  let source: (() => ChartData) | undefined;
  const summary = h('p', { class: 'summary' });
  const table = h('div', {
    class: 'table-scroll',
    tabindex: 0,
    role: 'region',
    'aria-label': `${title}: numbers`,
  });
  const save = (kind: FileKind) =>
    h('button', { type: 'button', click: () => source && void saveChart(source(), kind) }, kind);
  const node = h(
    'details',
    { class: 'behind' },
    h('summary', {}, mark, h('span', { class: 'visually-hidden' }, `: ${title}`)),
    h(
      'div',
      { class: 'behind-body' },
      summary,
      h(
        'div',
        { class: 'button-row' },
        h('span', { class: 'label' }, 'Save as'),
        ...(['CSV', 'SVG', 'PNG', 'JSON'] as const).map(save),
      ),
      table,
    ),
  );
  const fill = () => {
    if (!node.open || !source) return;
    const data = source();
    put(summary, data.summary);
    put(table, tableOf(data));
  };
  node.addEventListener('toggle', fill);
  return {
    node,
    update(data) {
      source = data;
      fill();
    },
  };
}

function tableOf(data: ChartData): HTMLTableElement {
  const length = data.columns[0]?.values.length ?? 0;
  const rows = rowsToShow(length, ROWS);
  const caption =
    rows.length < length
      ? `${data.title}. Every ${Math.round(length / rows.length)}th of ${length} rows; the CSV file has all.`
      : data.title;
  const columns = inUnitsOfPlot(data);
  return h(
    'table',
    {},
    h('caption', {}, caption),
    h('thead', {}, h('tr', {}, ...columns.map(({ title }) => h('th', { scope: 'col' }, title)))),
    h(
      'tbody',
      {},
      ...rows.map((row) => h('tr', {}, ...columns.map(({ values }) => h('td', {}, cellText(values[row]))))),
    ),
  );
}

const cellText = (value: number | string | undefined): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(5))).replace('-', '−') : (value ?? '');
