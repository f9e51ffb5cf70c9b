import type { Layout } from './guess-layout.ts';
import { cutRows } from './guess-layout.ts';
import { capitalUnit, knownUnit, readCell } from './read-number.ts';

/** What stands above the samples. */
export interface Header {
  /** One a column; '' where there is none. */
  readonly names: readonly string[];
  /** Unit text as understood (see knownUnit), else as written; undefined where none is written. */
  readonly units: readonly (string | undefined)[];
  /** s, when the preamble states it. */
  readonly sampleInterval: number | undefined;
  /** Units that the preamble states for all. */
  readonly timeUnit: string | undefined;
  readonly valueUnit: string | undefined;
  /** What was understood that the text does not say to the letter, in sentences. */
  readonly notes: readonly string[];
}

const COMMENT = /^\s*(?:[#%!]+|\/\/)\s?/u;
const TIME_NAME = /^(?:t|x|time|times|timestamp|zeit|temps|tiempo|tempo|tid|aika|secs?|seconds?)$/iu;
const INDEX_NAME = /^(?:index|i|n|no\.?|nr\.?|#|sample|samples|point|row)$/iu;

export const isTimeName = (name: string): boolean =>
  TIME_NAME.test(
    name
      .replace(/[^\p{L}#.]+/gu, ' ')
      .trim()
      .split(' ')[0] ?? '',
  );
export const isIndexName = (name: string): boolean => INDEX_NAME.test(name.trim());

/** Reads names, a row of units, and the facts of a preamble of the kind "key, value". */
export function readHeader(lines: readonly string[], layout: Layout): Header {
  const above = lines
    .slice(0, layout.first)
    .map((line) => line.replace(COMMENT, ''))
    .filter((line) => line.trim() !== '');
  const rows = above.map((line) => cutSafely(line, layout));
  const names = Array.from({ length: layout.columns }, () => '');
  const units: (string | undefined)[] = Array.from({ length: layout.columns }, () => undefined);
  let at = rows.length - 1;
  // Where the first line was given, samples before it are no header.
  while (at >= 0 && rows[at].every((cell) => typeof readCell(cell, layout.decimal) === 'object')) at--;
  let unitRow = -1;
  if (at >= 0 && fits(rows[at], layout) && isUnitRow(rows[at])) {
    unitRow = at;
    rows[at].forEach(
      (cell, i) => i < units.length && cell.trim() !== '' && (units[i] = unitText(stripBrackets(cell))),
    );
    at--;
  }
  if (at >= 0 && fits(rows[at], layout)) {
    rows[at].forEach((cell, i) => {
      if (i >= names.length) return;
      const { name, unit } = splitNameAndUnit(cell);
      names[i] = name;
      units[i] ??= unit;
    });
  } else if (unitRow >= 0) {
    // "Seconds,Volts" alone are names and units at once.
    rows[unitRow].forEach((cell, i) => i < names.length && (names[i] = cell.trim()));
  }
  const capitals = above.flatMap((line) => line.match(/(?<![\p{L}\p{N}])[A-Z]{2}(?![\p{L}\p{N}])/gu) ?? []);
  const notes = [...new Set(capitals)].flatMap((word) => {
    const unit = capitalUnit(word);
    return unit !== undefined && units.includes(unit) ? [`The unit "${word}" was read as ${unit}.`] : [];
  });
  return { names: distinct(names), units, notes, ...readPreamble(rows.slice(0, Math.max(0, at)), layout) };
}

function cutSafely(line: string, layout: Layout): string[] {
  try {
    return cutRows([line], { ...layout, paired: false })[0] ?? [];
  } catch {
    return [line];
  }
}

/** A row of names has a cell for each column; one that ends all lines with a delimiter may lack the last. */
const fits = (cells: readonly string[], layout: Layout): boolean =>
  (cells.length === layout.columns || cells.length === layout.columns - 1) &&
  (layout.columns > 1 || cells[0].trim() !== '') &&
  cells.some((cell) => readCell(cell, layout.decimal) === undefined);

const stripBrackets = (text: string): string => text.trim().replace(/^[([{]\s*|\s*[)\]}]$/gu, '');
const unitText = (text: string): string => knownUnit(text) ?? capitalUnit(text) ?? text.trim();
const isUnitRow = (cells: readonly string[]): boolean =>
  cells.some((cell) => cell.trim() !== '') &&
  cells.every(
    (cell) =>
      cell.trim() === '' ||
      knownUnit(stripBrackets(cell)) !== undefined ||
      capitalUnit(stripBrackets(cell)) !== undefined ||
      /^[([{].{1,8}[)\]}]$/u.test(cell.trim()),
  );

/** "Time (us)", "sense [mV]", "u_sense/mV", "time_ns", "t in s", "Volts" -> name and unit. */
export function splitNameAndUnit(cell: string): { name: string; unit: string | undefined } {
  // Longer than any name: cut, so that looking for a unit stays cheap.
  const text = cell.trim().slice(0, 120);
  const bracketed = /^(.*?)[\s_]*[([{]\s*([^)\]}]{1,12}?)\s*[)\]}]$/u.exec(text);
  if (bracketed) return { name: bracketed[1].trim(), unit: unitText(bracketed[2]) };
  const parted = /^(.+?)(?:\s*\/\s*|_|\s+in\s+|\s*,\s*|\s+)([^\s/_,]{1,12})$/u.exec(text);
  const unit = parted ? knownUnit(parted[2]) : undefined;
  if (parted && unit) return { name: parted[1].trim(), unit };
  return {
    name: text,
    unit: /^(?:volts?|millivolts?|seconds?|secs?)$/iu.test(text) ? knownUnit(text) : undefined,
  };
}

/** Two columns of one name become "name" and "name (2)". */
function distinct(names: readonly string[]): string[] {
  return names.map((name, i) => {
    const before = names.slice(0, i).filter((other) => other === name && name !== '').length;
    return before === 0 ? name : `${name} (${before + 1})`;
  });
}

const INTERVAL_KEY =
  /(?:sampl\w*|x|time|t)[\s_-]*(?:interval|period|incr\w*|step|spacing|delta)|^(?:dt|delta[\s_-]*t|increment)\b/iu;
const RATE_KEY = /sampl\w*[\s_-]*(?:rate|frequency)/iu;
const TIME_UNIT_KEY = /(?:horizontal|time|x)[\s_-]*(?:axis[\s_-]*)?units?/iu;
const VALUE_UNIT_KEY = /(?:vertical|voltage|value|y)[\s_-]*(?:axis[\s_-]*)?units?/iu;

function readPreamble(
  rows: readonly (readonly string[])[],
  layout: Layout,
): Pick<Header, 'sampleInterval' | 'timeUnit' | 'valueUnit'> {
  let sampleInterval: number | undefined;
  let timeUnit: string | undefined;
  let valueUnit: string | undefined;
  for (const row of rows) {
    const cells = row.length === 1 ? row[0].split(/[:=,;\t]/u) : row;
    const key = cells[0]?.replace(/[:=\s]+$/u, '') ?? '';
    const value = cells[1]?.trim() ?? '';
    const keyUnit = splitNameAndUnit(key).unit;
    if (INTERVAL_KEY.test(key)) {
      const read = readQuantity(value, cells[2], layout, keyUnit);
      const scale = { s: 1, ms: 1e-3, us: 1e-6, ns: 1e-9, ps: 1e-12 }[read.unit ?? ''];
      // Without a unit an interval is taken only where seconds are stated elsewhere; else it is asked for.
      if (scale !== undefined && read.value > 0) sampleInterval = read.value * scale;
    } else if (RATE_KEY.test(key)) {
      const rate = /^([\d.,eE+-]+)\s*([kMG]?)(?:Hz|Sa\/s|S\/s)$/u.exec(`${value}${cells[2]?.trim() ?? ''}`);
      const number = rate ? readCell(rate[1], layout.decimal) : undefined;
      if (rate && typeof number === 'object' && number.value > 0) {
        sampleInterval = 1 / (number.value * ({ k: 1e3, M: 1e6, G: 1e9 }[rate[2]] ?? 1));
      }
    } else if (TIME_UNIT_KEY.test(key)) timeUnit = knownUnit(value) ?? timeUnit;
    else if (VALUE_UNIT_KEY.test(key)) valueUnit = knownUnit(value) ?? valueUnit;
  }
  return { sampleInterval, timeUnit, valueUnit };
}

function readQuantity(
  value: string,
  next: string | undefined,
  layout: Layout,
  keyUnit: string | undefined,
): { value: number; unit: string | undefined } {
  const cell = readCell(value, layout.decimal);
  const other =
    typeof cell === 'object' ? cell : readCell(value, layout.decimal === 'point' ? 'comma' : 'point');
  if (typeof other !== 'object') return { value: NaN, unit: undefined };
  return {
    value: other.value,
    unit: other.unit ?? keyUnit ?? (next === undefined ? undefined : knownUnit(next)),
  };
}
