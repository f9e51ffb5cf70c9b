import { readFileSync } from 'node:fs';
import { CORE_PRESETS } from '../../engine/design/core-presets.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import type { CoreCapture } from '../../engine/fitting/jig/trace-model.ts';

/**
 * Captures of one measured core. Source of every number: "Magnetic Core Memory Controller", 7 July 2025, GitHub
 * repository HX2003/HX2003.github.io (commit 50467ac); read off its plots, means over 20 ns. Not told there: turns (one
 * assumed), hole, height and temperature of the core, and the current of the traces that have none.
 */
const folder = new URL('../../fixtures/cores/measured-1.3-mm/', import.meta.url);

/** Columns of a file: time in s, sense in V, drive in A. */
export function readMeasured(name: string): { time: number[]; sense: number[]; drive: number[] } {
  const rows = readFileSync(new URL(`${name}.csv`, folder), 'utf8')
    .trim()
    .split('\n')
    .slice(2);
  const cells = rows.map((row) => row.split(',').map(Number));
  const column = (k: number, scale: number): number[] => cells.map((row) => (row[k] ?? Number.NaN) * scale);
  return { time: column(0, 1e-6), sense: column(1, 1e-3), drive: column(2, 1e-3) };
}

/** V and A that stand there while nothing is driven: means over the first half microsecond. */
const rest = (time: number[], values: number[], until: number): number => {
  const before = values.filter((_, k) => time[k] < until);
  return before.reduce((a, b) => a + b, 0) / before.length;
};

/** The same with samples of sense in the middle between those of the drive. */
const between = (values: number[]): Float64Array =>
  Float64Array.from(values.slice(1), (v, k) => (v + values[k]) / 2);

/** Read of a ONE, read again, write of a ONE, write again: X, then Y 0.1 us later. Current as it flowed. */
export const TOPS = [
  [1.24e-6, 2.12e-6],
  [3.68e-6, 4.4e-6],
  [6.08e-6, 6.84e-6],
  [8.38e-6, 9.1e-6],
] as const;
export function driveAndSense(spans: CoreCapture['spans'] = TOPS): CoreCapture {
  const { time, sense, drive } = readMeasured('drive-and-sense');
  const noise = rest(time, sense, 0.5e-6);
  const idle = rest(time, drive, 0.5e-6);
  return {
    name: 'drive and sense',
    bit: 1,
    drive: { start: time[0], step: time[1] - time[0], current: Float64Array.from(drive, (i) => i - idle) },
    sense: between(sense.map((v) => v - noise)),
    spans,
  };
}

type Edge = readonly (readonly [time: number, part: number])[];
/**
 * One line's rise as fractions against time in s: reads and writes of the trace above, what the core's EMF took added
 * back, taken apart into X and Y 0.105 us later (derived).
 */
const RISE: Readonly<Record<'read' | 'write', Edge>> = {
  read: [
    [0, 0],
    [30e-9, 0.1],
    [60e-9, 0.17],
    [90e-9, 0.23],
    [120e-9, 0.27],
    [150e-9, 0.31],
    [180e-9, 0.4],
    [210e-9, 0.57],
    [240e-9, 0.78],
    [270e-9, 0.97],
    [300e-9, 1],
  ],
  write: [
    [0, 0],
    [60e-9, 0.05],
    [90e-9, 0.17],
    [120e-9, 0.34],
    [150e-9, 0.49],
    [180e-9, 0.57],
    [240e-9, 0.62],
    [270e-9, 0.65],
    [300e-9, 0.74],
    [330e-9, 0.83],
    [360e-9, 0.9],
    [420e-9, 0.92],
    [520e-9, 0.97],
    [600e-9, 1],
  ],
};
const FALL = 120e-9;
/** A/V, by which the current gave way in the measured pulses under the core's EMF: 49 mA at 99.7 mV. */
export const SAG = 0.49;
/** Edges are slower at less current: the spikes that they induce come later in proportion to 1/amplitude (observed). */
const stretchOf = (amplitude: number): number => 0.595 / (2 * amplitude);

function line(amplitude: number, on: number, off: number, t: number): number {
  const late = (t - on) / stretchOf(Math.abs(amplitude));
  if (late <= 0 || t >= off + FALL) return 0;
  if (t > off) return amplitude * (1 - (t - off) / FALL);
  const rise = RISE[amplitude < 0 ? 'read' : 'write'];
  const k = rise.findIndex(([at]) => late < at);
  if (k < 0) return amplitude;
  const [[t0, y0], [t1, y1]] = [rise[k - 1], rise[k]];
  return amplitude * (y0 + ((y1 - y0) * (late - t0)) / (t1 - t0));
}

interface Nominal {
  readonly name: string;
  readonly amplitude: number;
  /** s, start of each pulse's edge and of its fall; signs by polarity; s by which Y follows X. */
  readonly pulses: readonly (readonly [sign: number, on: number, off: number])[];
  readonly stagger: number;
  readonly spans: CoreCapture['spans'];
  readonly train?: CoreCapture['train'];
}

/** A trace whose current is not published: the measured shape, scaled to the label, its start and scale in doubt. */
function nominal({ name, amplitude, pulses, stagger, spans, train }: Nominal): CoreCapture {
  const { time, sense } = readMeasured(name);
  const noise = rest(time, sense, 0.3e-6);
  const current = Float64Array.from(time, (t) =>
    pulses.reduce(
      (sum, [sign, on, off]) =>
        sum + sign * (line(amplitude / 2, on, off, t) + line(amplitude / 2, on + stagger, off + stagger, t)),
      0,
    ),
  );
  return {
    name,
    bit: 1,
    ...(train ? { train } : {}),
    drive: { start: time[0], step: time[1] - time[0], current, sag: SAG },
    sense: between(sense.map((v) => v - noise)),
    spans,
    doubts: { scale: 0.035, start: 15e-9 },
  };
}

const fullSelect = (milliamps: number, read: number, write: number): CoreCapture =>
  nominal({
    name: `full-select-${milliamps}-mA`,
    amplitude: milliamps / 1000,
    pulses: [
      [-1, read, 1.6e-6],
      [1, write, 3.72e-6],
    ],
    stagger: 0,
    spans: [
      [read + 0.26e-6, 1.56e-6],
      [write + 0.24e-6, 3.68e-6],
    ],
  });
const afterHalves = (half: number, on: number): CoreCapture => ({
  ...nominal({
    name: `after-1024-half-writes-${half}-read-${2 * half}-mA`,
    amplitude: (2 * half) / 1000,
    pulses: [[-1, on, 3.3e-6]],
    stagger: 105e-9,
    spans: [[on + 0.28e-6, 3.26e-6]],
    train: { drive: half / 1000, width: 1.2e-6, pulses: 1024 },
  }),
  bit: 0,
});

/** Read and write of a ONE, X and Y at once; starts from the spikes that the edges induce. */
export const fullSelects = (): readonly CoreCapture[] => [
  fullSelect(720, 0.505e-6, 2.68e-6),
  fullSelect(640, 0.525e-6, 2.69e-6),
];
/** Cleared, half-written 1,024 times, read. */
export const disturbedReads = (): readonly CoreCapture[] => [
  afterHalves(360, 2.09e-6),
  afterHalves(340, 2.115e-6),
];

/** A start for fits: of the size of this core, every value a round guess. */
export const ROUGH: CoreParameters = {
  remanentFlux: 20e-9,
  squareness: 0.9,
  coerciveDrive: 0.35,
  staticKneeWidth: 0.01,
  dynamicThreshold: 0.39,
  dynamicKneeWidth: 0.015,
  switchingResistance: 0.6,
  ringSpread: 0.1,
  elasticSaturated: 1e-9,
  elasticKnee: 3e-9,
  elasticBend: 0.1,
  decayResistance: 0.03,
  decayCharge: 0.1e-6,
  decayThreshold: 0.45,
  driveTemperatureCoefficient: -0.004,
  fluxTemperatureCoefficient: -0.001,
  outsideDiameter: 1.3e-3,
  insideDiameter: 0.8e-3,
  height: 0.4e-3,
};

/** What one bell has to be found, and what rings with a decaying part have. */
export const BELL = [
  'remanentFlux',
  'squareness',
  'coerciveDrive',
  'staticKneeWidth',
  'dynamicThreshold',
  'dynamicKneeWidth',
  'switchingResistance',
  'elasticSaturated',
  'elasticKnee',
] as const;
export const RINGS_AND_TAIL = [
  ...BELL,
  'ringSpread',
  'decayResistance',
  'decayCharge',
  'decayThreshold',
] as const;

/** s: peak of the bell of the read and of the write, and the same instant of the pulse after it, which switches nothing. */
export const PEAKS_AND_ZEROS = [
  [1.54e-6, 3.9e-6],
  [6.44e-6, 8.73e-6],
] as const;

/** Peak, peak times width over area, and width at a tenth over that at a half, of a trace that holds one bell. */
export function readBell(
  trace: Float64Array,
  step: number,
): { peak: number; at: number; area: number; filled: number; tenthOverHalf: number } {
  const sum = trace.reduce((a, b) => a + b, 0);
  const y = trace.map((v) => (sum < 0 ? -v : v));
  const at = y.indexOf(Math.max(...y));
  const peak = y[at];
  const reach = (level: number, way: 1 | -1): number => {
    let k = at;
    while (y[k] > level * peak && k > 0 && k < y.length - 1) k += way;
    return Math.abs(k - at) - Math.max(0, (level * peak - y[k]) / (y[k - way] - y[k]));
  };
  const width = (level: number): number => (reach(level, 1) + reach(level, -1)) * step;
  const area = Math.abs(sum) * step;
  return {
    peak,
    at,
    area,
    filled: (peak * width(0.5)) / area,
    tenthOverHalf: width(0.1) / width(0.5),
  };
}

/** The preset as a start for fits to several traces: near, so that a fit takes seconds. */
export const NEAR: CoreParameters = CORE_PRESETS['measured-1.3-mm'].parameters;
