import { CaptureError, TIME_UNITS, VALUE_UNITS } from './capture.ts';
import type { Ambiguity, CaptureOptions } from './capture.ts';
import { isIndexName, isTimeName, type Header } from './read-header.ts';
import type { RawColumns } from './read-rows.ts';

/** Values of a column without the gaps. */
export const everyKnown = (column: Float64Array): number[] =>
  Array.from(column).filter((v) => !Number.isNaN(v));

/** Place of the column of times, -1 for none; asks where several could be. */
export function chooseTimeColumn(
  raw: RawColumns,
  header: Header,
  units: readonly (string | undefined)[],
  options: CaptureOptions,
  ambiguities: Ambiguity[],
): number {
  const count = raw.columns.length;
  if (options.timeColumn !== undefined) {
    if (!Number.isInteger(options.timeColumn) || options.timeColumn < 0 || options.timeColumn > count) {
      throw new CaptureError(
        'option',
        `The column of times must be from 1 to ${count}, or 0 for none; received ${options.timeColumn}.`,
      );
    }
    return options.timeColumn - 1;
  }
  if (count === 1) return units[0] !== undefined && units[0] in TIME_UNITS ? 0 : -1;
  const named = [...raw.columns.keys()].filter(
    (i) =>
      (units[i] !== undefined && units[i] in TIME_UNITS) ||
      (units[i] === undefined && isTimeName(header.names[i])),
  );
  if (named.length === 1) return named[0];
  const candidates =
    named.length > 1
      ? named
      : [...raw.columns.keys()].filter(
          (i) => rises(raw.columns[i]) && !(units[i] !== undefined && units[i] in VALUE_UNITS),
        );
  const ordered = candidates.filter((i) => !isIndexName(header.names[i]));
  if (ordered.length === 1) return ordered[0];
  if (ordered.length === 0) return -1;
  ambiguities.push({
    code: 'time-column',
    question: `Columns ${ordered.map((i) => i + 1).join(' and ')} could both be the times: which one is?`,
    choices: ordered.map((i) => ({
      label: `column ${i + 1}${header.names[i] ? `, "${header.names[i]}"` : ''}`,
      options: { timeColumn: i + 1 },
    })),
  });
  return ordered[0];
}

/** Never falls, and does not stand still all the way. */
function rises(column: Float64Array): boolean {
  const known = everyKnown(column);
  return (
    known.length > 1 &&
    known.every((v, i) => i === 0 || v >= known[i - 1]) &&
    known[0] < known[known.length - 1]
  );
}

/** Places of the columns that are read as traces; what is left out is noted. */
export function chooseValueColumns(
  raw: RawColumns,
  header: Header,
  units: readonly (string | undefined)[],
  timeColumn: number,
  options: CaptureOptions,
  notes: string[],
): number[] {
  const all = [...raw.columns.keys()].filter((i) => i !== timeColumn);
  if (options.valueColumns) {
    const wrong = options.valueColumns.find((c) => !all.includes(c - 1));
    if (wrong !== undefined || options.valueColumns.length === 0) {
      throw new CaptureError(
        'option',
        `A trace must be a column from 1 to ${raw.columns.length} other than that of the times; received ${wrong ?? 'none'}.`,
      );
    }
    return options.valueColumns.map((c) => c - 1);
  }
  const kept = all.filter((i) => {
    const name = header.names[i] ? `Column ${i + 1}, "${header.names[i]}",` : `Column ${i + 1}`;
    if (raw.columns[i].every(Number.isNaN)) {
      if (header.names[i]) notes.push(`${name} is empty and was left out.`);
      return false;
    }
    if (isIndexName(header.names[i])) {
      notes.push(`${name} counts the samples and was left out.`);
      return false;
    }
    if (units[i] !== undefined && !(units[i] in VALUE_UNITS)) {
      notes.push(`${name} is in "${units[i]}", neither volts nor amperes, and was left out.`);
      return false;
    }
    return true;
  });
  const limit = options.maxTraces ?? 16;
  if (kept.length > limit) {
    throw new CaptureError(
      'too-large',
      `A capture may hold at most ${limit} traces; received ${kept.length}: say which columns to read.`,
    );
  }
  if (kept.length === 0) {
    throw new CaptureError(
      'no-samples',
      'The file must hold at least one column of volts or amperes beside the times; none was found: say which column to read.',
    );
  }
  return kept;
}
