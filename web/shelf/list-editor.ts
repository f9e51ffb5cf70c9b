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
  const { shape } = options;
  let rows: readonly Cells[] = [];
  const shown: RowNode[] = [];

  /** The rows are the new ones from now on, though they are drawn only in the next frame. */
  const change = (next: readonly Cells[]): void => {
    rows = next;
    options.onChange(shape.write(next));
  };
  const focusRow = (at: number): void =>
    void requestAnimationFrame(() => (shown[Math.min(at, shown.length - 1)]?.cells[0] ?? parts.add).focus());
  const parts = listParts(options, () => {
    change([...rows, rows.at(-1) ?? shape.first]);
    focusRow(rows.length - 1);
  });
  const acts: RowActs = {
    edit: (at, column, text) =>
      change(rows.map((row, r) => (r === at ? row.map((old, c) => (c === column ? text : old)) : row))),
    moveUp(at) {
      const next = [...rows];
      next.splice(at - 1, 0, ...next.splice(at, 1));
      change(next);
    },
    remove(at) {
      change(rows.filter((_, i) => i !== at));
      focusRow(at);
    },
  };

  return {
    node: parts.node,
    update(value, faulty) {
      const read = value === undefined ? [] : shape.read(value);
      rows = read ?? [];
      while (shown.length > rows.length) shown.pop()!.node.remove();
      while (shown.length < rows.length) {
        const row = makeRow(shown.length, options, acts);
        shown.push(row);
        parts.body.append(row.node);
      }
      rows.forEach((cells, r) => showRow(shown[r]!, cells, (c) => isRefused(shape, r, c, faulty)));
      parts.scroll.hidden = parts.columns.hidden = rows.length === 0;
      parts.add.hidden = read === undefined || rows.length >= shape.most;
      parts.clear.hidden = value === undefined;
    },
  };
}

/** The document of a list, without its rows. */
function listParts({ id, label, shape, onChange }: ListEditorOptions, onAdd: () => void) {
  const body = h('tbody', {});
  const heads = [shape.rowName, ...shape.columns.map((column) => column.label)];
  const table = h(
    'table',
    { class: 'list-table' },
    h('caption', { class: 'visually-hidden' }, label),
    h('thead', {}, h('tr', {}, ...heads.map((text) => h('th', { scope: 'col' }, text)), h('td', {}))),
    body,
  );
  const scroll = h('div', { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': label }, table);
  const add = h('button', { type: 'button', click: onAdd }, `Add a ${shape.rowName.toLowerCase()}`);
  const clear = h('button', { type: 'button', click: () => onChange(undefined) }, 'Leave it out');
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
  return { node, body, scroll, columns, add, clear };
}

/** What can be done with a row, by its place. */
interface RowActs {
  edit(at: number, column: number, text: string): void;
  moveUp(at: number): void;
  remove(at: number): void;
}

function makeRow(at: number, { shape, describedBy }: ListEditorOptions, acts: RowActs): RowNode {
  // Counted from 0, as rows, columns and refusals are.
  const title = `${shape.rowName} ${at}`;
  const cells = shape.columns.map((column, c) =>
    makeCell(column, `${title}, ${column.label.toLowerCase()}`, describedBy, (text) =>
      acts.edit(at, c, text),
    ),
  );
  const button = (word: string, what: string, act: (at: number) => void) =>
    h(
      'button',
      {
        type: 'button',
        class: 'quiet',
        'aria-label': `${what} ${title.toLowerCase()}`,
        click: () => act(at),
      },
      word,
    );
  const tools = h(
    'td',
    { class: 'row-tools' },
    at > 0 && button('↑', 'Move up', acts.moveUp),
    button('Remove', 'Remove', acts.remove),
  );
  return {
    cells,
    node: h('tr', {}, h('th', { scope: 'row' }, at), ...cells.map((cell) => h('td', {}, cell)), tools),
  };
}

function showRow(row: RowNode, cells: Cells, refused: (column: number) => boolean): void {
  cells.forEach((text, c) => {
    const control = row.cells[c]!;
    showValue(control, text);
    control.setAttribute('aria-invalid', String(refused(c)));
  });
}

/** The check refuses the cell, something within it, or its whole row. */
function isRefused(shape: ListShape, row: number, column: number, faulty: readonly string[]): boolean {
  const pointer = shape.pointer(row, column);
  return faulty.some((at) => at === pointer || at === `/${row}` || at.startsWith(`${pointer}/`));
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
