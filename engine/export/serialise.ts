import type { Advice } from '../advice/advice.ts';
import type { HandbookSource } from '../core/handbook/check-handbook.ts';
import type { ChannelReport } from '../channel/channel-report.ts';
import type { CoreReport } from '../core/handbook/core-report.ts';
import type { Design } from '../design/design.ts';
import type { SeveralFit } from '../fitting/jig/fit-several.ts';
import type { FittedCore } from '../fitting/jig/fit-core.ts';
import type { Simulation } from '../solver/result.ts';
import { CONTRIBUTIONS } from '../network/causes.ts';
import { spectrumOfOne } from '../strobe/spectrum.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import type { StudyResult } from '../studies/shared/shape.ts';
import { VERSION } from '../base/version.ts';

/**
 * Results as text, the same bytes from every door: command line, HTTP and the page's export.
 *
 * Numbers are SI and printed with every digit that JavaScript needs to read the same double back. JSON has no
 * infinity, so an infinite value is the text "infinite" or "-infinite" (an open termination, no clamp, a ratio
 * to zero) and a value that is not a number is null. A key whose value is absent is null.
 */
export function toJsonText(value: unknown): string {
  if (value === undefined || value === null) return 'null';
  if (typeof value === 'number') return numberText(value);
  if (typeof value !== 'object') return JSON.stringify(value);
  if (value instanceof Uint8Array || value instanceof Int32Array) return `[${value.join(',')}]`;
  if (value instanceof Float64Array) return arrayText(value);
  if (Array.isArray(value)) return `[${value.map(toJsonText).join(',')}]`;
  const parts = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}:${toJsonText(item)}`);
  return `{${parts.join(',')}}`;
}

/** The same, with one line for each top-level key, and a final newline. */
export function toJsonDocument(value: object): string {
  const lines = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}: ${toJsonText(item)}`);
  return `{\n${lines.join(',\n')}\n}\n`;
}

function numberText(value: number): string {
  if (Number.isFinite(value)) return String(value);
  return Number.isNaN(value) ? 'null' : value > 0 ? '"infinite"' : '"-infinite"';
}

function arrayText(values: Float64Array): string {
  for (const value of values)
    if (!Number.isFinite(value)) return `[${Array.from(values, numberText).join(',')}]`;
  return `[${values.join(',')}]`;
}

/** What `simulate` answers in JSON: SI, one array per quantity, all of the length of `time`. */
export function simulationJson(run: Simulation, options: { readonly spectrum?: boolean } = {}): string {
  return toJsonDocument({
    version: VERSION,
    design: run.design,
    outcome: run.outcome,
    time: run.time,
    senseVoltage: run.senseVoltage,
    commonMode: run.commonMode,
    contributions: run.contributions,
    amplifierOutput: run.amplifierOutput,
    detectorOutput: run.detectorOutput,
    currents: run.currents,
    selectedFlux: run.selected.flux,
    selectedState: run.selected.state,
    selectedDrive: run.selected.drive,
    strobe: run.strobe,
    ...(run.baseline === undefined ? {} : { baseline: run.baseline }),
    energy: run.energy,
    fluxClosure: run.fluxClosure,
    error: run.error && { senseVoltage: run.error.senseVoltage, betweenEdges: run.error.betweenEdges },
    method: run.method,
    ...(options.spectrum === true ? { spectrum: run.contributions && spectrumOfOne(run) } : {}),
  });
}

/** What `channel` answers in JSON. */
export function channelJson(report: ChannelReport): string {
  return toJsonDocument({ version: VERSION, ...report });
}

/** What `window` answers in JSON. No window is an answer: `reason` says why and `strobe` is null. `advice` when it was asked for. */
export function windowJson(design: Design, window: StrobeWindow, advice?: Advice): string {
  return toJsonDocument({ version: VERSION, design, ...window, ...(advice === undefined ? {} : { advice }) });
}

/** Comment lines that every CSV starts with, so that a file found later says what made it. */
function preamble(design: Design): string {
  return `# strobewright ${VERSION}\n# design ${toJsonText(design)}\n`;
}

const numberCell = (value: number): string => (Number.isFinite(value) ? String(value) : '');

function csvTable(header: readonly string[], columns: readonly ArrayLike<number>[]): string {
  const rows: string[] = [header.join(',')];
  for (let i = 0; i < columns[0].length; i++) {
    rows.push(columns.map((column) => numberCell(column[i])).join(','));
  }
  return `${rows.join('\n')}\n`;
}

/**
 * The traces of a run as CSV: one row per output sample, SI, the unit in each column's name; causes are left out where
 * the run did not split them.
 */
export function simulationCsv(run: Simulation): string {
  const { contributions } = run;
  const parts = contributions === undefined ? [] : CONTRIBUTIONS;
  const header = [
    'time_s',
    'senseVoltage_V',
    ...parts.map((name) => `${name}_V`),
    'commonMode_V',
    'amplifierOutput_V',
    'detectorOutput',
    'currentX_A',
    'currentY_A',
    'currentInhibit_A',
    'currentSense_A',
    'selectedFlux_Wb',
    'selectedState_Wb',
    'selectedDrive_A',
  ];
  const columns = [
    run.time,
    run.senseVoltage,
    ...(contributions === undefined ? [] : parts.map((name) => contributions[name])),
    run.commonMode,
    run.amplifierOutput,
    run.detectorOutput,
    run.currents.x,
    run.currents.y,
    run.currents.inhibit,
    run.currents.sense,
    run.selected.flux,
    run.selected.state,
    run.selected.drive,
  ];
  return preamble(run.design) + csvTable(header, columns);
}

/** The envelopes and the opening as CSV, one row per instant; the opening's cells are empty where it is closed. */
export function windowCsv(design: Design, window: StrobeWindow): string {
  const { time, one, oneHigh, zero, zeroLow } = window.envelope;
  const low = new Float64Array(time.length).fill(Number.NaN);
  const high = new Float64Array(time.length).fill(Number.NaN);
  const bands = new Map(window.opening.map((band) => [band.time, band]));
  time.forEach((t, i) => {
    const band = bands.get(t);
    if (band !== undefined) {
      low[i] = band.low;
      high[i] = band.high;
    }
  });
  const header = [
    'time_s',
    'leastOne_V',
    'greatestOne_V',
    'leastZero_V',
    'greatestZero_V',
    'openingLow_V',
    'openingHigh_V',
  ];
  return preamble(design) + csvTable(header, [time, one, oneHigh, zeroLow, zero, low, high]);
}

/** What `core` answers in JSON: parameters, what was assumed, and how well the model core answers the handbook. */
export function coreJson(report: CoreReport, from: HandbookSource): string {
  return toJsonDocument({ version: VERSION, ...from, ...report });
}

/** The same of a core fitted to captures: also what was read off them, each with its standard error, and the entry for a list. */
export function fittedCoreJson({ report, measured, entry }: FittedCore, from: HandbookSource): string {
  return toJsonDocument({ version: VERSION, ...from, measured, entry, ...report });
}

/** A core fitted to several captures together: with `file`, what a design file takes as its core. */
export const severalFitJson = (fit: SeveralFit): string => toJsonDocument({ version: VERSION, ...fit });

/** Samples of the captures and of the model, one capture below the other: s, V as at the core. */
export function severalFitCsv({ captures }: SeveralFit): string {
  const rows = captures.flatMap(({ name, trace: { start, step, sense, model } }) =>
    Array.from(sense, (v, k) =>
      [`"${name.replaceAll('"', '""')}"`, start + k * step, v, model[k]!].join(','),
    ),
  );
  return `capture,time_s,captured_V,model_V\n${rows.join('\n')}\n`;
}

/** Parameters and answers as CSV, one quantity a row. */
export function coreCsv(report: CoreReport): string {
  const parameters = Object.entries(report.parameters).map(([name, value]) => `parameter,${name},,${value}`);
  const answers = report.comparisons.map(
    ({ quantity, unit, wanted, achieved }) =>
      `answer,${quantity}_${unit},${wanted ?? ''},${numberCell(achieved)}`,
  );
  return `kind,quantity,handbook,model\n${[...parameters, ...answers].join('\n')}\n`;
}

/** A study's table as CSV: one row a point, SI; a failed point has its reason in the last column. */
export function studyCsv(study: StudyResult): string {
  const { columns, results } = study;
  const header = ['index', 'name', ...columns.map(({ key, unit }) => unitName(key, unit)), 'failed'];
  const rows = results.map((result) => [
    result.index,
    result.name,
    ...columns.map(({ key }) => result.values[key] ?? ''),
    result.failed ?? '',
  ]);
  const head = `# strobewright ${VERSION}, study ${study.kind}, seed ${study.seed}\n`;
  return (
    head + [header, ...rows].map((row) => `${row.map((item) => csvCell(String(item))).join(',')}\n`).join('')
  );
}

const unitName = (key: string, unit: string): string =>
  unit === '' || unit === 'text' ? key : `${key}_${unit}`;

/** Quoted where it must be; a text that a spreadsheet would run as a formula gets a leading apostrophe. */
const csvCell = (text: string): string => {
  const safe = /^[=+@\t\r]|^-(?![\d.])/.test(text) ? `'${text}` : text;
  return /[",\n\r]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};
