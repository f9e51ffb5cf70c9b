import { toField, typedText, typedValue, type DesignField, type SchemaNode } from './design-fields.ts';
import { wordsOf } from './words-of.ts';

/**
 * How a list of a design is laid out as rows of cells, each a text as typed; made from the list's own schema.
 * What does not fit a cell's kind is written into the design as it was typed, so that the design's own check refuses it.
 */
export interface ListShape {
  /** What a row is called: "Cycle", "Core", "Point". */
  readonly rowName: string;
  readonly columns: readonly ListColumn[];
  readonly most: number;
  /** Undefined where `value` is no list of this shape. */
  readonly read: (value: unknown) => readonly Cells[] | undefined;
  /** Undefined where no rows are left: the list is then left out. */
  readonly write: (rows: readonly Cells[]) => unknown;
  /** What a first row holds. */
  readonly first: Cells;
  /** Pointer of a cell within the list: "/2/row". */
  readonly pointer: (row: number, column: number) => string;
}

export type Cells = readonly string[];
export type ListColumn = Omit<DesignField, 'pointer'>;

const ROW_NAMES: Readonly<Record<string, string>> = {
  programme: 'Cycle',
  exceptions: 'Core',
  points: 'Point',
  rows: 'Row',
  polarity: 'Row',
  order: 'Wire',
  grades: 'Value',
  range: 'Parameter',
};

/** @param name of the list's field: "programme". */
export function listShape(node: SchemaNode, name: string): ListShape {
  const rowName = ROW_NAMES[name] ?? 'Entry';
  const most = node.maxItems ?? Infinity;
  const item = node.items || {};
  if (node.properties) return { rowName, most, ...named(node.properties) };
  if (node.type !== 'array') return { rowName, most, ...grades };
  if (item.properties) return { rowName, most, ...records(item) };
  if (item.prefixItems) return { rowName, most, ...tuples(item.prefixItems) };
  if (item.type === 'array') return { rowName, most, ...signs };
  if (item.type === 'string') return { rowName, most, ...texts };
  return { rowName, most: 1, ...numbers };
}

type Body = Omit<ListShape, 'rowName' | 'most'>;

const orNothing = <T>(rows: readonly T[]): readonly T[] | undefined => (rows.length > 0 ? rows : undefined);

function records(item: SchemaNode): Body {
  const names = Object.keys(item.properties!);
  const columns = names.map((name) => toField(item.properties![name]!, '', wordsOf(name)));
  return {
    columns,
    first: names.map((name) => (item.required?.includes(name) ? '0' : '')),
    read: (value) =>
      Array.isArray(value) && value.every((row) => typeof row === 'object' && row !== null)
        ? value.map((row: Record<string, unknown>) => names.map((name) => typedText(row[name])))
        : undefined,
    write: (rows) =>
      orNothing(
        rows.map((cells) =>
          Object.fromEntries(
            names
              .map((name, i) => [name, typedValue(columns[i]!, cells[i]!)] as const)
              .filter(([, value]) => value !== undefined),
          ),
        ),
      ),
    pointer: (row, column) => `/${row}/${names[column]}`,
  };
}

/** Records by name, all with the same fields: the name first. Each value is typed as its own record has it. */
function named(records: Readonly<Record<string, SchemaNode>>): Body {
  const [[first, like]] = Object.entries(records) as [[string, SchemaNode]];
  const fields = Object.keys(like.properties!);
  const fieldOf = (name: string, field: string): ListColumn =>
    toField((records[name] ?? like).properties![field]!, '', wordsOf(field));
  return {
    columns: [
      { ...textColumn('Name', like.description ?? ''), kind: 'choice', options: Object.keys(records) },
      // Units differ from row to row.
      ...fields.map((field) => ({ ...fieldOf(first, field), range: '' })),
    ],
    first: [first, ...fields.map(() => '')],
    read: (value) =>
      typeof value === 'object' && value !== null && !Array.isArray(value)
        ? Object.entries(value as Record<string, Record<string, unknown>>).map(([name, held]) => [
            name,
            ...fields.map((field) => typedText(held[field])),
          ])
        : undefined,
    write: (rows) =>
      rows.length === 0
        ? undefined
        : Object.fromEntries(
            rows.map(([name, ...cells]) => [
              name!,
              Object.fromEntries(
                fields
                  .map((field, i) => [field, typedValue(fieldOf(name!, field), cells[i]!)] as const)
                  .filter(([, value]) => value !== undefined),
              ),
            ]),
          ),
    pointer: (row) => `/${row}`,
  };
}

function tuples(items: readonly SchemaNode[]): Body {
  const columns = items.map((node) => toField(node, '', (node.description ?? '').replace(/\.$/, '')));
  return {
    columns,
    first: items.map(() => '0'),
    read: (value) =>
      Array.isArray(value) && value.every((row) => Array.isArray(row))
        ? value.map((row: readonly unknown[]) => items.map((_, i) => typedText(row[i])))
        : undefined,
    write: (rows) =>
      orNothing(rows.map((cells) => cells.map((cell, i) => typedValue(columns[i]!, cell) ?? null))),
    pointer: (row, column) => `/${row}/${column}`,
  };
}

const textColumn = (label: string, help: string): ListColumn => ({
  label,
  kind: 'text',
  help,
  range: '',
  options: [],
  start: '',
});

/** One text a row. */
const texts: Body = {
  columns: [textColumn('Bits', 'One 0 or 1 for each column.')],
  first: ['0'],
  read: (value) =>
    Array.isArray(value) && value.every((row) => typeof row === 'string')
      ? value.map((row: string) => [row])
      : undefined,
  write: (rows) => orNothing(rows.map(([text]) => text!)),
  pointer: (row) => `/${row}`,
};

/** One text of + and - a row, for plus and minus one. */
const signs: Body = {
  columns: [textColumn('Signs', 'One + or - for each column.')],
  first: ['+'],
  read: (value) =>
    Array.isArray(value)
      ? value.map((row: unknown) =>
          Array.isArray(row) && row.every((sign) => sign === 1 || sign === -1)
            ? [row.map((sign) => (sign === 1 ? '+' : '-')).join('')]
            : [typedText(row)],
        )
      : undefined,
  write: (rows) =>
    orNothing(
      rows.map(([text]) => {
        const plain = text!.replaceAll('−', '-').replaceAll(/\s/g, '');
        return /^[+-]+$/.test(plain) ? [...plain].map((sign) => (sign === '+' ? 1 : -1)) : text;
      }),
    ),
  pointer: (row) => `/${row}`,
};

/** All numbers in one cell, apart by spaces. */
const numbers: Body = {
  columns: [textColumn('Numbers', 'Whole numbers with a space between.')],
  first: ['0'],
  read: (value) => (Array.isArray(value) ? [[value.map(String).join(' ')]] : undefined),
  write: (rows) => {
    const words = (rows[0]?.[0] ?? '').split(/[\s,]+/).filter(Boolean);
    return orNothing(words.map((word) => typedValue({ kind: 'count' }, word)));
  },
  pointer: () => '',
};

/** Name and text of each entry of an object. */
const grades: Body = {
  columns: [
    textColumn('Name', 'The value of the core that is graded.'),
    textColumn('Grade', 'Where it is from, and how far to trust it.'),
  ],
  first: ['', ''],
  read: (value) =>
    typeof value === 'object' && value !== null && !Array.isArray(value)
      ? Object.entries(value).map(([name, text]) => [name, typedText(text)])
      : undefined,
  write: (rows) =>
    rows.length > 0 ? Object.fromEntries(rows.map(([name, text]) => [name, text])) : undefined,
  pointer: (row) => `/${row}`,
};
