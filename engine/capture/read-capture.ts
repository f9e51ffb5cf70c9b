import { CaptureError, TIME_UNITS, VALUE_UNITS } from './capture.ts';
import type { Ambiguity, Capture, CaptureOptions, CaptureReading, TimeUnit, ValueUnit } from './capture.ts';
import { decodeText } from './decode-text.ts';
import { cutRows, guessLayout } from './guess-layout.ts';
import { isIndexName, isTimeName, readHeader } from './read-header.ts';
import type { Header } from './read-header.ts';
import { readRows } from './read-rows.ts';
import type { RawColumns } from './read-rows.ts';
import { settleTimes } from './settle-times.ts';
import type { SettledTimes } from './settle-times.ts';
import { median } from '../numerics/statistics.ts';

/** A sample of a core's answer lasts between these, s; used only to rule out a unit of time. */
const LEAST_INTERVAL = 5e-11;
const GREATEST_INTERVAL = 1e-2;
/** Characters; a row of 64 numbers with all their digits has some 1,600. */
const LONGEST_LINE = 10_000;

/**
 * Reads a capture from the text of any instrument. What the text leaves open comes back as questions and no
 * capture; ask them, then call again with the answers merged into the options. Throws CaptureError, one sentence
 * with line and column, for a text that cannot be read.
 */
export function readCapture(input: string | Uint8Array, options: CaptureOptions = {}): CaptureReading {
  const limit = options.maxBytes ?? 67_108_864;
  if (input.length > limit) {
    throw new CaptureError(
      'too-large',
      `A capture may hold at most ${limit} bytes; received ${input.length}: cut it down to the part around one read.`,
    );
  }
  const decoded =
    typeof input === 'string'
      ? { text: input, encoding: 'utf-8' as const, notes: [] }
      : decodeText(input, options.encoding);
  const lines = decoded.text.replace(/^\uFEFF/u, '').split(/\r\n|\n|\r/u);
  // Some spreadsheets name their delimiter in the first line.
  const named = /^sep=(.)$/u.exec(lines[0].trim());
  if (named) lines[0] = '';

  const long = lines.findIndex((line) => line.length > LONGEST_LINE);
  if (long >= 0) {
    throw new CaptureError(
      'too-large',
      `A line may hold at most ${LONGEST_LINE} characters; line ${long + 1} has ${lines[long].length}: write one sample a line.`,
      long + 1,
    );
  }
  const { layout, ambiguity } = guessLayout(lines, options);
  const header = readHeader(lines, layout);
  const raw = readRows(lines, layout, options);
  const notes = [...decoded.notes, ...header.notes];
  const ambiguities: Ambiguity[] = ambiguity ? [ambiguity] : [];
  if (raw.footer.length > 0)
    notes.push(
      `${raw.footer.length} line${raw.footer.length > 1 ? 's' : ''} after the samples hold no numbers and were left out.`,
    );

  const units = header.units.map((unit, i) => raw.cellUnits[i] ?? unit);
  header.units.forEach((unit, i) => {
    const cells = raw.cellUnits[i];
    if (cells !== undefined && unit !== undefined && cells !== unit)
      notes.push(`Column ${i + 1} is headed "${unit}" and its cells say ${cells}: the cells were believed.`);
  });
  const timeColumn = chooseTimeColumn(raw, header, units, options, ambiguities);
  const values = chooseValueColumns(raw, header, units, timeColumn, options, notes);
  const seconds = readTimes(raw, timeColumn, units, header, options, ambiguities, notes);
  const settled = settleTimes(seconds, raw.line, options, timeColumn < 0 ? undefined : timeColumn + 1);
  ambiguities.push(...settled.ambiguities);
  notes.push(...settled.notes);
  const traceUnits = values.map((column) => unitOfValues(column, units, header, options));
  if (traceUnits.includes(undefined)) ambiguities.push(askValueUnit(header, values, traceUnits));

  const preview = {
    encoding: decoded.encoding,
    delimiter: layout.delimiter,
    decimal: layout.decimal,
    firstLine: layout.first + 1,
    preamble: lines.slice(0, layout.first).slice(0, 40),
    columns: raw.columns.map((_, i) => ({
      name: header.names[i] || `column ${i + 1}`,
      role:
        i === timeColumn
          ? ('time' as const)
          : values.includes(i)
            ? ('trace' as const)
            : ('left out' as const),
      unit:
        i === timeColumn
          ? (options.timeUnit ?? units[i] ?? header.timeUnit)
          : (traceUnits[values.indexOf(i)] ?? units[i]),
    })),
    rows: Array.from(raw.line.subarray(0, 8), (line) => cutRows([lines[line - 1]], layout)[0]),
  };
  const capture =
    ambiguities.length > 0
      ? undefined
      : assemble(
          settled,
          values,
          raw,
          traceUnits as ValueUnit[],
          (i) => header.names[i] || `column ${i + 1}`,
          notes,
        );
  return { capture, ambiguities, preview, notes };
}

const everyKnown = (column: Float64Array): number[] => Array.from(column).filter((v) => !Number.isNaN(v));

function chooseTimeColumn(
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

function chooseValueColumns(
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

/** Times of the rows in s; without a column they come from the sample interval. */
function readTimes(
  raw: RawColumns,
  timeColumn: number,
  units: readonly (string | undefined)[],
  header: Header,
  options: CaptureOptions,
  ambiguities: Ambiguity[],
  notes: string[],
): Float64Array {
  if (timeColumn < 0) {
    const interval = options.sampleInterval ?? header.sampleInterval;
    if (options.sampleInterval !== undefined && !(options.sampleInterval > 0)) {
      throw new CaptureError(
        'option',
        `The sample interval must be more than 0 s; received ${options.sampleInterval} s.`,
      );
    }
    if (interval === undefined) {
      ambiguities.push({
        code: 'sample-interval',
        question: 'The file has no column of times: how long is one sample, in seconds?',
        choices: [],
        wanted: 'sampleInterval',
      });
    } else if (options.sampleInterval === undefined) {
      notes.push(
        `There is no column of times; they were counted from the interval of ${interval} s in the lines above the samples.`,
      );
    }
    return Float64Array.from(raw.line, (_, i) => i * (interval ?? 1));
  }
  const column = raw.columns[timeColumn];
  const unit = options.timeUnit ?? units[timeColumn] ?? header.timeUnit;
  if (unit !== undefined && unit in TIME_UNITS) return scaled(column, TIME_UNITS[unit as TimeUnit]);
  if (unit !== undefined) {
    throw new CaptureError(
      'times',
      `The unit of the times must be s, ms, us, ns or ps; received "${unit}": name it in the header or in the options.`,
    );
  }
  const known = everyKnown(column);
  const steps = known
    .slice(1)
    .map((t, i) => Math.abs(t - known[i]))
    .filter((d) => d > 0);
  const step = steps.length > 0 ? median(steps) : 0;
  const plausible = (Object.keys(TIME_UNITS) as TimeUnit[]).filter(
    (u) => step * TIME_UNITS[u] >= LEAST_INTERVAL && step * TIME_UNITS[u] <= GREATEST_INTERVAL,
  );
  if (plausible.length === 1) {
    notes.push(
      `The times carry no unit; they were taken in ${plausible[0]}, since in any other a sample would last less than 50 ps or more than 10 ms.`,
    );
    return scaled(column, TIME_UNITS[plausible[0]]);
  }
  const offered = plausible.length > 0 ? plausible : (Object.keys(TIME_UNITS) as TimeUnit[]);
  ambiguities.push({
    code: 'time-unit',
    question: `The times carry no unit and one sample lasts ${Number(step.toPrecision(4))} of it: which unit is it?`,
    choices: offered.map((timeUnit) => ({ label: timeUnit, options: { timeUnit } })),
  });
  return scaled(column, TIME_UNITS[offered[0]]);
}

const scaled = (column: Float64Array, factor: number): Float64Array =>
  factor === 1 ? column : column.map((v) => v * factor);

function unitOfValues(
  column: number,
  units: readonly (string | undefined)[],
  header: Header,
  options: CaptureOptions,
): ValueUnit | undefined {
  const unit = units[column] ?? header.valueUnit ?? options.valueUnit;
  return unit !== undefined && unit in VALUE_UNITS ? (unit as ValueUnit) : options.valueUnit;
}

function askValueUnit(
  header: Header,
  values: readonly number[],
  units: readonly (ValueUnit | undefined)[],
): Ambiguity {
  const open = values.filter((_, i) => units[i] === undefined);
  const names = open.map((i) => (header.names[i] ? `"${header.names[i]}"` : `column ${i + 1}`));
  return {
    code: 'value-unit',
    question: `No unit is given for ${names.join(', ')}: which one is it?`,
    choices: (Object.keys(VALUE_UNITS) as ValueUnit[]).map((valueUnit) => ({
      label: valueUnit,
      options: { valueUnit },
    })),
  };
}

/** Averages rows of one time, leaves out samples without a value, and checks what is left. */
function assemble(
  settled: SettledTimes,
  values: readonly number[],
  raw: RawColumns,
  units: readonly ValueUnit[],
  nameOf: (column: number) => string,
  notes: string[],
): Capture {
  const columns = values.map((c, k) =>
    Float64Array.from(settled.rows as ArrayLike<number | Int32Array>, (rows) => {
      const list = typeof rows === 'number' ? [rows] : rows;
      let sum = 0;
      for (const row of list) sum += raw.columns[c][row];
      return (sum / list.length) * VALUE_UNITS[units[k]];
    }),
  );
  const whole = [...settled.time.keys()].filter((i) => columns.every((column) => !Number.isNaN(column[i])));
  const dropped = settled.time.length - whole.length;
  if (whole.length < 2 || dropped > settled.time.length / 2) {
    throw new CaptureError(
      'no-samples',
      `More than half of the ${settled.time.length} samples lack a value in one of the traces; say which columns to read.`,
    );
  }
  if (dropped > 0) notes.push(`${dropped} of ${settled.time.length} samples without a value were left out.`);
  const pick = (column: Float64Array): Float64Array =>
    dropped === 0 ? column : Float64Array.from(whole, (i) => column[i]);
  const time = pick(settled.time);
  const steps = time.subarray(1).map((t, i) => t - time[i]);
  const sampleInterval = median(steps);
  const uniform = steps.every((d) => Math.abs(d - sampleInterval) <= 0.01 * sampleInterval);
  if (!uniform) notes.push('The samples are not evenly spaced.');
  return {
    time,
    sampleInterval,
    uniform,
    traces: columns.map((value, k) => ({
      name: nameOf(values[k]),
      unit: units[k].endsWith('A') ? 'A' : 'V',
      value: pick(value),
    })),
  };
}
