import { h, put } from '../ui/dom.ts';
import { rowsToShow, type ChartData } from './chart-data.ts';
import { saveChart, type FileKind } from './save.ts';

export interface Figure {
  readonly node: HTMLElement;
  readonly body: HTMLElement;
  /** `data` is asked for only when the reader opens the table or saves a file. */
  update(data: () => ChartData): void;
}

export interface FigureOptions {
  readonly title: string;
  readonly level?: 'h2' | 'h3';
  /** Controls beside the title. */
  readonly tools?: readonly Node[];
  readonly className?: string;
}

const ROWS = 60;

/** A chart with its title; behind it, one click away, its summary in words, its numbers as a table, and files. */
export function createFigure(options: FigureOptions): Figure {
  const { title, level = 'h3' } = options;
  let source: (() => ChartData) | undefined;
  const body = h('div', { class: 'plot' });
  const summary = h('p', { class: 'summary' });
  const table = h('div', {
    class: 'table-scroll',
    tabindex: 0,
    role: 'region',
    'aria-label': `${title}: numbers`,
  });
  const save = (kind: FileKind) =>
    h('button', { type: 'button', click: () => source && void saveChart(source(), kind) }, kind);
  const more = h(
    'details',
    { class: 'behind' },
    h(
      'summary',
      {},
      'In words, as a table, as a file',
      h('span', { class: 'visually-hidden' }, `: ${title}`),
    ),
    summary,
    h(
      'div',
      { class: 'button-row' },
      h('span', { class: 'label' }, 'Save as'),
      ...(['CSV', 'SVG', 'PNG', 'JSON'] as const).map(save),
    ),
    table,
  );
  const fill = () => {
    if (!more.open || !source) return;
    const data = source();
    put(summary, data.summary);
    put(table, tableOf(data));
  };
  more.addEventListener('toggle', fill);
  const head = h('div', { class: 'panel-head' }, h(level, {}, title), ...(options.tools ?? []));
  const node = h(
    'section',
    { class: `panel ${options.className ?? ''}`, 'aria-label': title },
    head,
    body,
    more,
  );
  return {
    node,
    body,
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
  return h(
    'table',
    {},
    h('caption', {}, caption),
    h('thead', {}, h('tr', {}, ...data.columns.map((column) => h('th', { scope: 'col' }, column.title)))),
    h(
      'tbody',
      {},
      ...rows.map((row) =>
        h('tr', {}, ...data.columns.map((column) => h('td', {}, cellText(column.values[row])))),
      ),
    ),
  );
}

const cellText = (value: number | string | undefined): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(5))).replace('-', '−') : (value ?? '');
