import { HALF_SELECTED, SELECTED } from '../../network/core-classes.ts';
import type { Problem } from '../run-problem.ts';
import { PARTS, type Split } from '../split-state.ts';
import { makeDifference, type Difference } from '../difference.ts';
import type { LineHistory, MeanHistory, SlopeMean, StepsBefore } from './means.ts';
import type { WireState } from '../wire-state.ts';
import type { SectionSums } from '../section-sums.ts';

/**
 * The second time loop, for long wires whose drive currents are prescribed. Cores are moved once a core step (core-grid.ts)
 * and the wire takes several cheap steps in it, which solve for nothing but its own ladder:
 *
 *     section:  L (i1 - i0)/h + E = v_k - v_(k+1) - R j        i: lagged current;  L: wire and the cores' elastic answer
 *               j = (i0 + i1)/2 + tau (i1 - i0)/h              tau: time of the ferrite's loss
 *     node:     C (v1 - v0)/h + G (v0 + v1)/2 = j_(k-1) - j_k + J
 *
 * all trapezoidal, with the ladder's averaged capacitance and what makes good the step's own dispersion (ladder.ts; here for
 * trapezoidal steps alone). E is what the cores and the lines' air coupling induce besides L: its mean over a core step is
 * exact, so that flux closes, and its slope follows from the means before. Nothing damps but tau, so a wire without loss
 * is left to the coupled loop, which also is the reference for this one (long-wire.long.test.ts).
 */
export interface LongWire extends StepsBefore {
  /** V, of every section: mean over the core step, those of the two before, and V/s. */
  emf: MeanHistory;
  /** The same by cause: section * PARTS + part; empty without split. */
  shares: MeanHistory;
  /** V, mean EMF of the lines over the core step and over those before. */
  readonly lineX: LineHistory;
  readonly lineY: LineHistory;
  /**
   * H: how the cores' flux answers the wire's own current, by role and section; X and Y, of half-selected cores by section;
   * the separate inhibit wire, of selected and half-selected ones: at the start of the core step, and the mean over it (of
   * its ends).
   */
  readonly own: SlopeMean;
  readonly x: SlopeMean;
  readonly y: SlopeMean;
  readonly inhibit: SlopeMean;
  /** A, lagged currents one and two core steps ago. */
  lagOld: Float64Array;
  lagOlder: Float64Array;
  /** Lagged current and voltages that the wire's steps move (without split). */
  readonly lag: Float64Array;
  readonly v: Float64Array;
  /** A, mean over the core step: what enters the nodes through the coupling capacitance. */
  readonly charge: Float64Array;
  /** The factored ladder: change of i and of j per volt; elimination. */
  readonly answer: Float64Array;
  readonly through: Float64Array;
  readonly pivot: Float64Array;
  readonly lower: Float64Array;
  readonly off: Float64Array;
  /** V, sum of the voltages at the instants within the core step, for the flux closure. */
  readonly within: Float64Array;
  /** Scratch of a step. */
  readonly drop: Float64Array;
  readonly carried: Float64Array;
  /** D over a core step as a plain mean. */
  readonly over: Difference;
}

/** s: below this the fronts on a wire are gone within a few steps, and the coupled loop is as quick. */
const LONG = 5e-9;

/** s: a loss time that takes the ringing of sections down within a period (time-grid.ts). */
const DAMPED = 0.1e-9;

/** Is the problem one for this loop? One whose design states its steps is not. */
export const isLongWire = (problem: Omit<Problem, 'byCores'>): boolean => {
  const { lineX, lineY, clamp, linger, sections, rule } = problem;
  // Few cores behind long leads cost little in the coupled loop, which books their heat with every step of the wire.
  const threaded = 1 - (2 * sections.leads) / sections.count;
  return (
    threaded * rule.transit >= LONG &&
    sections.lossTime >= DAMPED &&
    clamp === Infinity &&
    linger === 0 &&
    [lineX, lineY].every((line) => line.sourceResistance === undefined && line.compliance === Infinity)
  );
};

/** @param sums as the cores stand; @param split whose causes are to be moved too */
export function makeLongWire(wire: WireState, sums: SectionSums, split: Split | undefined): LongWire {
  const n = wire.sections.count;
  const make = (length = n + 1): Float64Array => new Float64Array(length);
  const history = (length: number): MeanHistory => ({
    mean: make(length),
    past: make(length),
    older: make(length),
    slope: make(length),
  });
  const slopes = (end: Float64Array): SlopeMean => ({ end, start: end.slice(), mean: end.slice() });
  const { stride } = sums;
  const halfSelected = (of: Float64Array): Float64Array =>
    of.subarray(HALF_SELECTED * stride, (HALF_SELECTED + 1) * stride);
  const parts = split ? PARTS : 1;
  return {
    emf: history(n),
    shares: history(split ? n * PARTS : 0),
    own: slopes(sums.own),
    x: slopes(halfSelected(sums.x)),
    y: slopes(halfSelected(sums.y)),
    inhibit: slopes(sums.inhibit.subarray(SELECTED * stride, (HALF_SELECTED + 1) * stride)),
    lineX: { past: 0, older: 0 },
    lineY: { past: 0, older: 0 },
    lagOld: make(),
    lagOlder: make(),
    lag: wire.lag.slice(),
    v: wire.v.slice(),
    charge: make(),
    answer: make(),
    through: make(),
    pivot: make(),
    lower: make(),
    off: make(),
    within: make(),
    drop: make(parts * (n + 1)),
    carried: make(parts * (n + 1)),
    before: 0,
    beforeThat: 0,
    over: makeDifference(wire.sections.lossTime),
  };
}
