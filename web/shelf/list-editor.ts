import { h } from '../ui/dom.ts';
import type { Cells, ListColumn, ListShape } from '../model/list-shape.ts';
import { showValue } from '../ui/typing.ts';

export interface ListEditorOptions {
  /** Unique on the page. */
  readonly id: string;
  readonly label: string;
  readonly shape: ListShape;
  /** Ids of help and message, for every cell. */
  readonly describedBy: string;
  /** The list as it now stands, undefined when it is left out. */
  readonly onChange: (value: unknown) => void;
}

export interface ListEditor {
  readonly node: HTMLElement;
  /** @param faulty Pointers within the list that the design's check refuses. */
  update(value: unknown, faulty: readonly string[]): void;
}

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

interface RowNode {
  readonly node: HTMLElement;
  readonly cells: readonly Control[];
}

/** A list as rows: add, remove, move, edit; every cell as typed, with its unit. */
export function createListEditor(options: ListEditorOptions): ListEditor {
  const { id, label, shape } = options;
  let rows: readonly Cells[] = [];
  let shown: RowNode[] = [];
  const body = h('tbody', {});
  const table = h(
    'table',
    { class: 'list-table' },
    h('caption', { class: 'visually-hidden' }, label),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        h('th', { scope: 'col' }, shape.rowName),
        ...shape.columns.map((column) => h('th', { scope: 'col' }, column.label)),
        h('td', {}),
      ),
    ),
    body,
  );
  const scroll = h('div', { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': label }, table);
  const name = shape.rowName.toLowerCase();
  const add = h('button', { type: 'button', click: () => append() }, `Add a ${name}`);
  const clear = h('button', { type: 'button', click: () => options.onChange(undefined) }, 'Leave it out');
  const columns = h(
    'details',
    { class: 'behind' },
    h('summary', {}, 'What each column takes', h('span', { class: 'visually-hidden' }, `: ${label}`)),
    h('dl', { class: 'column-help' }, ...shape.columns.flatMap(columnHelp)),
  );
  const node = h(
    'div',
    { class: 'list-editor', id, role: 'group', 'aria-label': label },
    scroll,
    h('div', { class: 'button-row' }, add, clear),
    columns,
  );

  /** The rows are the new ones from now on, though they are drawn only in the next frame. */
  const change = (next: readonly Cells[]): void => {
    rows = next;
    options.onChange(shape.write(next));
  };

  function append(): void {
    const at = rows.length;
    change([...rows, rows.at(-1) ?? shape.first]);
    requestAnimationFrame(() => shown[at]?.cells[0]?.focus());
  }

  function move(from: number, to: number): void {
    const next = [...rows];
    next.splice(to, 0, ...next.splice(from, 1));
    change(next);
  }

  function remove(at: number): void {
    change(rows.filter((_, i) => i !== at));
    requestAnimationFrame(() => (shown[Math.min(at, shown.length - 1)]?.cells[0] ?? add).focus());
  }

  function makeRow(index: number): RowNode {
    // Counted from 0, as rows, columns and refusals are.
    const title = `${shape.rowName} ${index}`;
    const cells = shape.columns.map((column, c) =>
      makeCell(column, `${title}, ${column.label.toLowerCase()}`, options.describedBy, (text) =>
        change(rows.map((row, r) => (r === index ? row.map((old, i) => (i === c ? text : old)) : row))),
      ),
    );
    const button = (word: string, what: string, act: () => void) =>
      h(
        'button',
        { type: 'button', class: 'quiet', 'aria-label': `${what} ${title.toLowerCase()}`, click: act },
        word,
      );
    const tools = h(
      'td',
      { class: 'row-tools' },
      index > 0 && button('↑', 'Move up', () => move(index, index - 1)),
      button('Remove', 'Remove', () => remove(index)),
    );
    return {
      cells,
      node: h('tr', {}, h('th', { scope: 'row' }, index), ...cells.map((cell) => h('td', {}, cell)), tools),
    };
  }

  return {
    node,
    update(value, faulty) {
      const read = value === undefined ? [] : shape.read(value);
      rows = read ?? [];
      while (shown.length > rows.length) shown.pop()!.node.remove();
      while (shown.length < rows.length) {
        const row = makeRow(shown.length);
        shown.push(row);
        body.append(row.node);
      }
      rows.forEach((cells, r) =>
        cells.forEach((text, c) => {
          const control = shown[r]!.cells[c]!;
          showValue(control, text);
          const pointer = shape.pointer(r, c);
          control.setAttribute(
            'aria-invalid',
            String(faulty.some((at) => at === pointer || at === `/${r}` || at.startsWith(`${pointer}/`))),
          );
        }),
      );
      scroll.hidden = columns.hidden = rows.length === 0;
      add.hidden = read === undefined || rows.length >= shape.most;
      clear.hidden = value === undefined;
    },
  };
}

function makeCell(
  column: ListColumn,
  label: string,
  describedBy: string,
  commit: (text: string) => void,
): Control {
  const shared = {
    'aria-label': label,
    'aria-describedby': describedBy,
    change: () => commit(control.value),
  };
  const options = column.kind === 'flag' ? ['true', 'false'] : column.options;
  const control: Control =
    options.length > 0 && column.kind !== 'quantity'
      ? h(
          'select',
          shared,
          h('option', { value: '' }, column.start === '' ? 'left out' : `${wordFor(column.start)} (default)`),
          ...options.map((value) => h('option', { value }, wordFor(value))),
        )
      : h('input', {
          ...shared,
          type: 'text',
          autocomplete: 'off',
          spellcheck: 'false',
          placeholder: column.start,
        });
  return control;
}

const wordFor = (value: string): string => (value === 'true' ? 'yes' : value === 'false' ? 'no' : value);

function columnHelp({ label, help, range, start }: ListColumn): HTMLElement[] {
  const text = [help, range && `Takes ${range}.`, start && `If left out: ${wordFor(start)}.`]
    .filter(Boolean)
    .join(' ');
  return [h('dt', {}, label), h('dd', {}, text)];
}
