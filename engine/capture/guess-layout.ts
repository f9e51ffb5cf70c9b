import { parse } from 'csv-parse/browser/esm/sync';
import { CaptureError, DELIMITERS } from './capture.ts';
import type { Ambiguity, CaptureOptions, DecimalMark, Delimiter } from './capture.ts';
import { readCell } from './read-number.ts';

/** How the rows are cut and read. */
export interface Layout {
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  /** A comma both parts columns and marks decimals: two neighbouring cells make one number. */
  readonly paired: boolean;
  /** Cells in a row of samples. */
  readonly columns: number;
  /** Index of the first line of samples. */
  readonly first: number;
}

/** The character that parts two cells. */
export const MARKS: Record<Delimiter, string> = {
  tab: '\t',
  semicolon: ';',
  bar: '|',
  comma: ',',
  space: ' ',
  none: '\u0000',
};

/** Lines looked at when guessing. */
const LOOKED_AT = 200;

/** Cuts rows into cells. Throws what csv-parse throws (an unclosed or misplaced quote). */
export function cutRows(
  lines: readonly string[],
  layout: Pick<Layout, 'delimiter' | 'decimal' | 'paired'>,
): string[][] {
  const text = layout.delimiter === 'space' ? lines.map((line) => line.trim().replace(/\s+/gu, ' ')) : lines;
  const mark = MARKS[layout.delimiter];
  // Without quotation marks there is nothing to parse: cut at the delimiter, a million lines in a third of the time.
  const rows = text.some((line) => line.includes('"'))
    ? parse(text.join('\n'), {
        delimiter: mark,
        relax_column_count: true,
        trim: true,
        skip_empty_lines: false,
      })
    : text.map((line) => line.split(mark).map((cell) => cell.trim()));
  return layout.paired ? rows.map(joinPairs) : rows;
}

function joinPairs(cells: string[]): string[] {
  const joined: string[] = [];
  for (let i = 0; i < cells.length; i += 2)
    joined.push(i + 1 < cells.length ? `${cells[i]},${cells[i + 1]}` : cells[i]);
  return joined;
}

/** A row's cells without the empty ones that a delimiter at the end of every line leaves. */
const withoutTail = (cells: readonly string[]): readonly string[] =>
  cells.length > 1 && cells[cells.length - 1].trim() === '' ? cells.slice(0, -1) : cells;

function isSamples(cells: readonly string[], decimal: DecimalMark): boolean {
  const read = withoutTail(cells).map((cell) => readCell(cell, decimal));
  return read.every((cell) => cell !== undefined) && read.some((cell) => cell !== 'missing');
}

interface Candidate extends Layout {
  /** Lines of samples among those looked at. */
  readonly count: number;
  /** Numbers of the first rows, to tell whether two readings differ at all. */
  readonly sample: string;
  /** True when something in the text speaks for this reading against its rivals. */
  readonly supported: boolean;
}

/**
 * Delimiter and decimal mark are decided together: each pair is tried, and kept when it makes the longest run of
 * rows that hold numbers only. Readings that give the same numbers are one; several that differ are asked about.
 */
export function guessLayout(
  lines: readonly string[],
  options: CaptureOptions,
): { readonly layout: Layout; readonly ambiguity: Ambiguity | undefined } {
  const candidates: Candidate[] = [];
  for (const delimiter of options.delimiter ? [options.delimiter] : DELIMITERS) {
    for (const decimal of options.decimal ? [options.decimal] : (['point', 'comma'] as const)) {
      for (const paired of delimiter === 'comma' && decimal === 'comma' ? [false, true] : [false]) {
        const found = tryLayout(lines, { delimiter, decimal, paired }, options.firstLine);
        if (found) candidates.push(found);
      }
    }
  }
  const longest = Math.max(0, ...candidates.map((c) => c.count));
  if (longest < 2) {
    throw new CaptureError(
      'no-samples',
      'The file must hold rows of numbers, one sample a row, at least two of them; none were found: say which delimiter and decimal mark it uses and at which line the samples begin.',
    );
  }
  const full = candidates.filter((c) => c.count >= longest - 1);
  const supported = full.some((c) => c.supported) ? full.filter((c) => c.supported) : full;
  const distinct = supported.filter(
    (c, i) => supported.findIndex((other) => other.sample === c.sample) === i,
  );
  const layout = distinct[0];
  if (distinct.length === 1) return { layout, ambiguity: undefined };
  const row = lines[layout.first].trim().slice(0, 60);
  return {
    layout,
    ambiguity: {
      code: 'layout',
      question: `Line ${layout.first + 1}, ${JSON.stringify(row)}, can be read in ${distinct.length} ways: which one is meant?`,
      choices: distinct.map((c) => ({
        label: `${c.columns === 1 ? 'one column' : `${c.columns} columns`}, decimal ${c.decimal}: ${c.sample.split('\n')[0]}`,
        options: { delimiter: c.delimiter, decimal: c.decimal },
      })),
    },
  };
}

function tryLayout(
  lines: readonly string[],
  cut: Pick<Layout, 'delimiter' | 'decimal' | 'paired'>,
  firstLine: number | undefined,
): Candidate | undefined {
  const start = firstLine === undefined ? 0 : firstLine - 1;
  const looked = lines.slice(start, start + LOOKED_AT);
  const mark = MARKS[cut.delimiter];
  if (cut.delimiter !== 'none' && !looked.some((line) => line.includes(mark))) return undefined;
  const cells = looked.map((line) => (line.trim() === '' ? [] : safely(() => cutRows([line], cut)[0])));
  const widths = cells.map((row) => (row.length > 0 && isSamples(row, cut.decimal) ? row.length : 0));
  const run = longestRun(widths, looked);
  if (run.count === 0) return undefined;
  if (cut.delimiter !== 'none' && run.width === 1 && !cut.paired) return undefined;
  const rows = cells.filter((_, i) => widths[i] === run.width);
  // Whole numbers alone say nothing for a decimal comma beside a delimiting one; quoted cells may.
  if (
    cut.delimiter === 'comma' &&
    cut.decimal === 'comma' &&
    !cut.paired &&
    !rows.some((row) => row.some((cell) => cell.includes(',')))
  )
    return undefined;
  if (cut.paired && !rows.every((row) => row.every((cell) => /^[+-]?\d+,\d+$/u.test(cell)))) return undefined;
  // The first of two neighbouring rows of that width begins the samples: a bad row further on is an error there.
  const first = widths.findIndex(
    (width, i) => width === run.width && (i >= run.from || nextWidth(widths, i) === run.width),
  );
  const sample = rows
    .slice(0, 30)
    .map((row) =>
      withoutTail(row)
        .map((cell) => shown(cell, cut.decimal))
        .join('  '),
    )
    .join('\n');
  const header = rowAbove(lines.slice(0, start + first), cut);
  return {
    ...cut,
    columns: run.width,
    first: start + first,
    count: run.count,
    sample,
    supported: (run.width > 1 && header.length === run.width) || fractionsSpeak(rows, cut),
  };
}

/** The cells of the nearest line above that holds no samples: the names, or the units. */
function rowAbove(lines: readonly string[], cut: Pick<Layout, 'delimiter' | 'decimal'>): string[] {
  for (const line of lines.slice(-LOOKED_AT).toReversed()) {
    const cells = line.trim() === '' ? [] : safely(() => cutRows([line], { ...cut, paired: false })[0]);
    if (cells.length > 0 && !isSamples(cells, cut.decimal)) return cells;
  }
  return [];
}

/** Fractions such as the "001" of "0,001" are no whole numbers that anyone writes. */
function fractionsSpeak(
  rows: readonly string[][],
  cut: Pick<Layout, 'paired' | 'delimiter' | 'decimal'>,
): boolean {
  if (cut.paired) return rows.some((row) => row.some((cell) => /,0\d/u.test(cell)));
  if (cut.delimiter === 'none' && cut.decimal === 'comma') return rows.some((row) => /,0\d/u.test(row[0]));
  const mark = cut.decimal === 'comma' ? ',' : '.';
  // A number that no grouping of thousands explains: a leading zero, or not exactly three digits after the mark.
  return rows.some((row) =>
    row.some((cell) => {
      const at = cell.indexOf(mark);
      return at >= 0 && (/^[+-]?0/u.test(cell) || !/^\d{3}$/u.test(cell.slice(at + 1)));
    }),
  );
}

const shown = (cell: string, decimal: DecimalMark): string => {
  const read = readCell(cell, decimal);
  return read === 'missing' || read === undefined ? '-' : `${read.value}${read.unit ?? ''}`;
};

function safely(cut: () => string[]): string[] {
  try {
    return cut() ?? [];
  } catch {
    return [];
  }
}

function nextWidth(widths: readonly number[], at: number): number {
  return widths[at + 1] ?? 0;
}

/** The longest run of rows of one width, blank lines not counted. */
function longestRun(
  widths: readonly number[],
  lines: readonly string[],
): { width: number; count: number; from: number } {
  let best = { width: 0, count: 0, from: 0 };
  let run = { width: 0, count: 0, from: 0 };
  widths.forEach((width, i) => {
    if (lines[i].trim() === '') return;
    run =
      width > 0 && width === run.width
        ? { ...run, count: run.count + 1 }
        : { width, count: width > 0 ? 1 : 0, from: i };
    if (run.count > best.count) best = run;
  });
  return best;
}
