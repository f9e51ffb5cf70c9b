import { supplyCurrent } from '../estimates/supply-needs.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import { givesWay } from '../drive/line-voltage.ts';
import { cycleLimits } from '../estimates/cycle-limits.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { finished } from '../solver/finished.ts';

type Simulate = (design: Design, options: SimulateOptions) => Simulation;

/** One plane of a stack when a word is written and read back. */
export interface PlaneReading {
  readonly bit: 0 | 1;
  /** Bit that the latch takes. */
  readonly read: 0 | 1;
  /** V at the strobe as the detector hears it, referred to the sense wire. */
  readonly atStrobe: number;
  /** A, X current at the strobe: a line behind a voltage, or at its compliance, gives way to the cores that switch on it. */
  readonly current: number;
}

export interface WordReading {
  readonly written: readonly (0 | 1)[];
  readonly read: readonly (0 | 1)[];
  readonly planes: readonly PlaneReading[];
}

/**
 * Writes a word at the selected address of a stack and reads it back: X and Y run through all mats in series, so the
 * ONEs that switch in the others slow a voltage-driven line. Mats are alike and hold the same pattern beside the
 * word; planes of the same bit then read alike, and two runs stand for all.
 *
 * @param word one bit a mat @throws RangeError when their number is not that of the mats
 */
export function readWord(design: Design, word: readonly (0 | 1)[], simulate: Simulate): WordReading {
  const { mats } = design.mat;
  if (word.length !== mats)
    throw new RangeError(`A word needs one bit a mat, ${mats} here, but has ${word.length}; give as many.`);
  const ones = word.filter((bit) => bit === 1).length;
  const known: Partial<Record<0 | 1, PlaneReading>> = {};
  const planes = word.map((bit) => (known[bit] ??= readPlane(design, bit, ones - bit, simulate)));
  return { written: word, read: planes.map((plane) => plane.read), planes };
}

function readPlane(design: Design, bit: 0 | 1, otherOnes: number, simulate: Simulate): PlaneReading {
  const { row, column } = design.selected;
  const cycle = { row, column, lines: 'both', read: true } as const;
  const programme: Cycle[] = [
    { ...cycle, write: bit === 1 ? 'one' : 'zero' },
    { ...cycle, write: 'restore' },
  ];
  const run = simulate(
    { ...design, mat: { ...design.mat, otherOnes }, selected: { row, column, bit }, programme },
    { contributions: false, estimateError: false, balance: false },
  );
  finished(run);
  const at = Math.round((run.strobe.time - design.detector.delay) / design.numerics.output);
  return {
    bit,
    read: run.strobe.bit,
    atStrobe: run.strobe.value,
    current: Math.abs(run.currents.x[Math.min(at, run.currents.x.length - 1)]!),
  };
}

/** What the word's other bits do to one bit. */
export interface WordDependence {
  /** Number of ONEs in the words tried. */
  readonly ones: readonly number[];
  /** V at the strobe: a ONE in a word of so many ONEs (NaN where there is none), and a ZERO. */
  readonly one: readonly number[];
  readonly zero: readonly number[];
  /** A, X current at the strobe, of the plane that reads the ONE (the ZERO where there is none). */
  readonly current: readonly number[];
  /** True when both lines are current sources within their limits, which data do not move. */
  readonly fixed: boolean;
}

/** Words from all ZEROs to all ONEs, at most nine of them. */
export function wordDependence(design: Design, simulate: Simulate): WordDependence {
  const { mats } = design.mat;
  const fixed = !givesWay(design, 'x') && !givesWay(design, 'y');
  const parts = Math.min(mats, fixed ? 1 : 8);
  const ones = [...new Set(Array.from({ length: parts + 1 }, (_, i) => Math.round((i * mats) / parts)))];
  const words = ones.map((n) =>
    readWord(
      design,
      Array.from({ length: mats }, (_, i) => (i < n ? 1 : 0)),
      simulate,
    ),
  );
  const value = (bit: 0 | 1): number[] =>
    words.map(({ planes }) => planes.find((plane) => plane.bit === bit)?.atStrobe ?? NaN);
  return {
    ones,
    one: value(1),
    zero: value(0),
    current: words.map(({ planes }) => planes[0]!.current),
    fixed,
  };
}

/** Supply current at one cycle rate. */
export interface SupplyPoint {
  /** Hz. */
  readonly rate: number;
  /** A: every bit ZERO (the worst data), and every bit ONE (no inhibit fires). */
  readonly allZeros: number;
  readonly allOnes: number;
  /** Do read, gap, write, inhibit and the inhibit's tail fit the period? */
  readonly inTime: boolean;
}

export function supplyCurve(design: Design, rates: readonly number[]): SupplyPoint[] {
  const shortest = cycleLimits(design).timing;
  return rates.map((rate) => ({
    rate,
    allZeros: supplyCurrent(design, rate),
    allOnes: supplyCurrent(design, rate, 0),
    inTime: 1 / rate >= shortest,
  }));
}
