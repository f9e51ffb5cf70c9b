import { writeQuantity } from '../../base/format-quantity.ts';
import type { Json } from '../../base/json-patch.ts';
import type { Unit } from '../../base/units.ts';
import { coreReport, type CoreReport } from '../../core/handbook/core-report.ts';
import type { CoreHandbook } from '../../core/handbook/values.ts';
import type { Trace } from '../align/trace-tools.ts';
import { judgeJig, jigNotes } from '../judge/judge-jig.ts';
import { MeasureError, measureEdge, measureOne, type DriveEdge, type Measured } from './measure-core.ts';

/** Captures of one core on a jig. Every edge is on the time axis of its own capture. */
export interface JigCaptures {
  /** A read of an undisturbed ONE at full drive. */
  readonly one: { readonly trace: Trace; readonly edge: DriveEdge };
  /** A read of a disturbed ZERO at full drive (dVz). */
  readonly disturbedZero?: { readonly trace: Trace; readonly edge: DriveEdge };
  /** Volts in the capture over volts per turn at the core (probe, divider, turns); default 1. */
  readonly gain?: number;
}

/** What the bench knows without a capture. */
export type JigSettings = Omit<
  CoreHandbook,
  'peakOne' | 'peakTime' | 'switchTime' | 'disturbedZero' | 'rise'
>;

export interface FittedCore {
  readonly measured: {
    readonly peakOne: Measured;
    readonly peakTime: Measured;
    readonly switchTime: Measured;
    readonly disturbedZero: Measured | undefined;
  };
  readonly handbook: CoreHandbook;
  /** Parameters, what the model core answers, and the notes. */
  readonly report: CoreReport;
  /** An entry for one's own list of cores: a handbook file. */
  readonly entry: Json;
}

const UNITS: Readonly<Record<keyof CoreHandbook, Unit>> = {
  fullDrive: 'A',
  rise: 's',
  peakOne: 'V',
  peakTime: 's',
  switchTime: 's',
  disturbRatio: '1',
  halfSelectOne: 'V',
  halfSelectZero: 'V',
  disturbedZero: 'V',
  secondDrive: 'A',
  secondPeak: 'V',
  disturbs: '1',
  disturbedOne: 'V',
  disturbedPeak: 'V',
  dynamicThreshold: 'A',
  coerciveDrive: 'A',
  ringSpread: '1',
  driveTemperatureCoefficient: '1/K',
  fluxTemperatureCoefficient: '1/K',
  tolerance: '1',
  outsideDiameter: 'm',
  insideDiameter: 'm',
  height: 'm',
};

/** What is read off captures of a jig, per turn at the core. Throws MeasureError. */
export function measureJig(captures: JigCaptures): FittedCore['measured'] {
  const gain = Math.abs(captures.gain ?? 1);
  const scaled = (m: Measured): Measured => ({ value: m.value / gain, error: m.error / gain });
  const one = measureOne(captures.one.trace, captures.one.edge);
  const zero =
    captures.disturbedZero && measureEdge(captures.disturbedZero.trace, captures.disturbedZero.edge);
  return {
    peakOne: scaled(one.peakOne),
    peakTime: one.peakTime,
    switchTime: one.switchTime,
    disturbedZero: zero && scaled(zero),
  };
}

/** From captures on a single-core jig to the core's parameters. Throws MeasureError or HandbookError. */
export function fitCore(
  captures: JigCaptures,
  settings: JigSettings,
  name = 'core from the jig',
): FittedCore {
  const notes = judgedNotes(captures);
  const measured = measureJig(captures);
  const handbook: CoreHandbook = {
    ...settings,
    rise: captures.one.edge.rise,
    peakOne: measured.peakOne.value,
    peakTime: measured.peakTime.value,
    switchTime: measured.switchTime.value,
    ...(measured.disturbedZero ? { disturbedZero: measured.disturbedZero.value } : {}),
  };
  const report = coreReport(handbook);
  return {
    measured,
    handbook,
    report: { ...report, notes: [...notes, ...report.notes] },
    entry: handbookFile(handbook, name),
  };
}

/** What was found of the captures before anything is read off them. Throws MeasureError for one that is not usable. */
function judgedNotes({ one, disturbedZero }: JigCaptures): string[] {
  const captures = [
    ['The capture of a ONE', one, 1],
    ['The capture of a ZERO', disturbedZero, 0],
  ] as const;
  return captures.flatMap(([label, capture, bit]) => {
    if (capture === undefined) return [];
    const found = judgeJig(capture.trace, { bit, edge: capture.edge });
    if (found.verdict === 'not usable') throw new MeasureError(`${label}: ${found.statement}`);
    return jigNotes(label, found);
  });
}

/** The grade of a handbook value that comes off a capture. */
export const READ_OFF_CAPTURE = 'measured, read off a capture';

/** A handbook as a file: text with units, and which values came off a capture. */
function handbookFile(handbook: CoreHandbook, name: string): Json {
  const values = (Object.entries(handbook) as [keyof CoreHandbook, number | undefined][])
    .filter((entry): entry is [keyof CoreHandbook, number] => entry[1] !== undefined)
    .map(([field, value]) => [field, UNITS[field] === '1' ? value : writeQuantity(value, UNITS[field])]);
  const off = ['peakOne', 'peakTime', 'switchTime', 'disturbedZero'].filter((f) => f in handbook);
  return {
    name,
    source: 'Measured on a single-core jig',
    ...(Object.fromEntries(values) as { [key: string]: Json }),
    grades: Object.fromEntries(off.map((field) => [field, READ_OFF_CAPTURE])),
  };
}
