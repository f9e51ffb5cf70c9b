import { assembleCapture } from './assemble-capture.ts';
import { CaptureError, VALUE_UNITS } from './capture.ts';
import type { Ambiguity, CaptureOptions, CaptureReading, PreviewColumn, ValueUnit } from './capture.ts';
import { chooseTimeColumn, chooseValueColumns } from './choose-columns.ts';
import { decodeText } from './decode-text.ts';
import { cutRows, guessLayout } from './guess-layout.ts';
import { readHeader } from './read-header.ts';
import type { Header } from './read-header.ts';
import { readRows } from './read-rows.ts';
import type { RawColumns } from './read-rows.ts';
import { readTimes } from './read-times.ts';
import { settleTimes } from './settle-times.ts';

/** Characters; a row of 64 numbers with all their digits has some 1,600. */
const LONGEST_LINE = 10_000;

/**
 * Reads a capture from the text of any instrument. What the text leaves open comes back as questions and no
 * capture; ask them, then call again with the answers merged into the options. Throws CaptureError, one sentence
 * with line and column, for a text that cannot be read.
 */
export function readCapture(input: string | Uint8Array, options: CaptureOptions = {}): CaptureReading {
  const decoded = decodeWithin(input, options);
  const lines = linesOf(decoded.text);
  const { layout, ambiguity } = guessLayout(lines, options);
  const header = readHeader(lines, layout);
  const raw = readRows(lines, layout, options);
  const notes = [...decoded.notes, ...header.notes];
  const ambiguities: Ambiguity[] = ambiguity ? [ambiguity] : [];
  if (raw.footer.length > 0)
    notes.push(
      `${raw.footer.length} line${raw.footer.length > 1 ? 's' : ''} after the samples hold no numbers and were left out.`,
    );
  const units = unitsOf(raw, header, notes);
  const timeColumn = chooseTimeColumn(raw, header, units, options, ambiguities);
  const values = chooseValueColumns(raw, header, units, timeColumn, options, notes);
  const seconds = readTimes(raw, timeColumn, units, header, options, ambiguities, notes);
  const settled = settleTimes(seconds, raw.line, options, timeColumn < 0 ? undefined : timeColumn + 1);
  ambiguities.push(...settled.ambiguities);
  notes.push(...settled.notes);
  const traceUnits = values.map((column) => unitOfValues(column, units, header, options));
  if (traceUnits.includes(undefined)) ambiguities.push(askValueUnit(header, values, traceUnits));

  const nameOf = (column: number): string => header.names[column] || `column ${column + 1}`;
  const roleOf = (column: number): PreviewColumn['role'] =>
    column === timeColumn ? 'time' : values.includes(column) ? 'trace' : 'left out';
  const unitOf = (column: number) =>
    column === timeColumn
      ? (options.timeUnit ?? units[column] ?? header.timeUnit)
      : (traceUnits[values.indexOf(column)] ?? units[column]);
  const preview = {
    encoding: decoded.encoding,
    delimiter: layout.delimiter,
    decimal: layout.decimal,
    firstLine: layout.first + 1,
    preamble: lines.slice(0, layout.first).slice(0, 40),
    columns: raw.columns.map((_, i) => ({
      name: nameOf(i),
      role: roleOf(i),
      unit: unitOf(i),
    })),
    rows: Array.from(raw.line.subarray(0, 8), (line) => cutRows([lines[line - 1]], layout)[0]),
  };
  const capture =
    ambiguities.length > 0
      ? undefined
      : assembleCapture(settled, values, raw, traceUnits as ValueUnit[], nameOf, notes);
  return { capture, ambiguities, preview, notes };
}

function decodeWithin(input: string | Uint8Array, options: CaptureOptions) {
  const limit = options.maxBytes ?? 67_108_864;
  if (input.length > limit) {
    throw new CaptureError(
      'too-large',
      `A capture may hold at most ${limit} bytes; received ${input.length}: cut it down to the part around one read.`,
    );
  }
  return typeof input === 'string'
    ? { text: input, encoding: 'utf-8' as const, notes: [] }
    : decodeText(input, options.encoding);
}

function linesOf(text: string): string[] {
  const lines = text.replace(/^\uFEFF/u, '').split(/\r\n|\n|\r/u);
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
  return lines;
}

/** Units by column: what the cells say goes before what the header says. */
function unitsOf(raw: RawColumns, header: Header, notes: string[]): (string | undefined)[] {
  return header.units.map((unit, i) => {
    const cells = raw.cellUnits[i];
    if (cells !== undefined && unit !== undefined && cells !== unit)
      notes.push(`Column ${i + 1} is headed "${unit}" and its cells say ${cells}: the cells were believed.`);
    return cells ?? unit;
  });
}

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
