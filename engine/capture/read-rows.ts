import { CaptureError } from './capture.ts';
import type { CaptureOptions } from './capture.ts';
import { cutRows, MARKS } from './guess-layout.ts';
import type { Layout } from './guess-layout.ts';
import { readCell } from './read-number.ts';

/** The samples as written: one array a column, NaN where a cell is empty. */
export interface RawColumns {
  readonly columns: readonly Float64Array[];
  /** Line of each sample, from 1. */
  readonly line: Int32Array;
  /** Unit written in the cells of a column, the same in all of them; undefined when none is. */
  readonly cellUnits: readonly (string | undefined)[];
  /** Lines after the samples that hold no numbers, left out. */
  readonly footer: readonly string[];
}

/** Lines cut at a time, so that memory stays with the numbers and not with their texts. */
const CHUNK = 5000;
const FAST = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?$/u;

/** Reads every row; the first cell that is no number is an error with its line and column. */
export function readRows(lines: readonly string[], layout: Layout, options: CaptureOptions): RawColumns {
  const last = lastLine(lines, layout);
  const limit = options.maxSamples ?? 1_000_000;
  const used: number[] = [];
  for (let i = layout.first; i <= last; i++) {
    if (lines[i].trim() === '') continue;
    used.push(i);
    if (used.length > limit) {
      throw new CaptureError(
        'too-large',
        `A capture may hold at most ${limit} samples; this file has more from line ${i + 1} on: cut it down to the part around one read.`,
        i + 1,
      );
    }
  }
  const width = layout.columns;
  const columns = Array.from({ length: width }, () => new Float64Array(used.length));
  const cellUnits: (string | undefined)[] = Array.from({ length: width }, () => undefined);
  for (let from = 0; from < used.length; from += CHUNK) {
    const part = used.slice(from, from + CHUNK);
    const rows = cutOrExplain(
      part.map((i) => lines[i]),
      part,
      layout,
    );
    rows.forEach((row, k) => {
      const line = part[k] + 1;
      if (row.length !== width) {
        throw new CaptureError(
          'ragged',
          `Line ${line} must have ${width} ${width === 1 ? 'cell' : 'cells'} as the lines before it; received ${row.length}: complete the line or remove it.`,
          line,
          Math.min(row.length, width) + 1,
        );
      }
      for (let c = 0; c < width; c++)
        columns[c][from + k] = readValue(row[c], line, c, layout, cellUnits, from + k);
    });
  }
  return {
    columns,
    line: Int32Array.from(used, (i) => i + 1),
    cellUnits,
    footer: lines.slice(last + 1).filter((line) => line.trim() !== ''),
  };
}

function cutOrExplain(texts: readonly string[], part: readonly number[], layout: Layout): string[][] {
  let rows: string[][] = [];
  try {
    rows = cutRows(texts, layout);
  } catch {
    throw quoteError(texts, part, layout);
  }
  if (rows.length !== texts.length) throw quoteError(texts, part, layout);
  return rows;
}

/** The first line with an odd number of quotation marks. */
const openQuote = (texts: readonly string[]): number =>
  Math.max(
    0,
    texts.findIndex((text) => (text.match(/"/gu)?.length ?? 0) % 2 === 1),
  );

function quoteError(texts: readonly string[], part: readonly number[], layout: Layout): CaptureError {
  const at = openQuote(texts);
  const line = part[at] + 1;
  const before = texts[at].slice(0, Math.max(0, texts[at].lastIndexOf('"')));
  const column = before.split(MARKS[layout.delimiter]).length;
  return new CaptureError(
    'quote',
    `Line ${line}, column ${column} has a quotation mark that is opened or closed in the wrong place: remove it or close it.`,
    line,
    column,
  );
}

function readValue(
  raw: string,
  line: number,
  column: number,
  layout: Layout,
  cellUnits: (string | undefined)[],
  index: number,
): number {
  if (layout.decimal === 'point' && FAST.test(raw)) {
    const value = Number(raw);
    if (Number.isFinite(value)) return value;
  }
  const cell = readCell(raw, layout.decimal);
  if (cell === 'missing') return NaN;
  if (cell === undefined) {
    throw new CaptureError(
      'not-a-number',
      `Line ${line}, column ${column + 1} must be a number with a decimal ${layout.decimal}; received ${JSON.stringify(raw.slice(0, 30))}: correct the cell, or say at which line the samples begin.`,
      line,
      column + 1,
    );
  }
  if (cell.unit === undefined) return cell.value;
  if (index === 0 || cellUnits[column] === undefined) cellUnits[column] ??= cell.unit;
  if (cellUnits[column] !== cell.unit) {
    throw new CaptureError(
      'not-a-number',
      `Line ${line}, column ${column + 1} must be in ${cellUnits[column]} as the cells above it; received ${JSON.stringify(raw.slice(0, 30))}: use one unit in a column.`,
      line,
      column + 1,
    );
  }
  return cell.value;
}

/** Index of the last line that holds a number; what follows is a footer. */
function lastLine(lines: readonly string[], layout: Layout): number {
  for (let i = lines.length - 1; i > layout.first; i--) {
    if (lines[i].trim() === '') continue;
    let cells: string[] = [];
    try {
      cells = cutRows([lines[i]], layout)[0] ?? [];
    } catch {
      return i;
    }
    if (cells.length > 1 || layout.columns === 1) {
      if (cells.some((cell) => typeof readCell(cell, layout.decimal) === 'object')) return i;
    } else if (typeof readCell(cells[0] ?? '', layout.decimal) === 'object') return i;
  }
  return layout.first;
}
