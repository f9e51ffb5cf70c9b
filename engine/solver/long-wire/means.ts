import type { Difference } from '../difference.ts';
import type { DriveLine } from '../drive-line.ts';
import { lineEmf, type WireState } from '../wire-state.ts';

/** V by section (and cause): means over the core step and over the two before, and the slope that follows from them, V/s. */
export interface MeanHistory {
  mean: Float64Array;
  past: Float64Array;
  older: Float64Array;
  readonly slope: Float64Array;
}

export interface SlopeMean {
  /** As the sums have it. */
  readonly end: Float64Array;
  readonly start: Float64Array;
  readonly mean: Float64Array;
}

export interface LineHistory {
  past: number;
  older: number;
}

/** Weights of the last three means by which the slope at the middle of the last follows from a parabola, 1/s. */
export interface SlopeWeights {
  now: number;
  past: number;
  older: number;
}

/** Core steps before this one, s; 0 where a slope jump lies between. */
export interface StepsBefore {
  before: number;
  beforeThat: number;
}

/** @param to filled; all zero in the first core step after a slope jump, a straight line in the second */
export function setSlopeWeights(to: SlopeWeights, { before, beforeThat }: StepsBefore, length: number): void {
  to.now = to.past = to.older = 0;
  if (before === 0) return;
  const a = (length + before) / 2;
  if (beforeThat === 0) {
    to.now = 1 / a;
    to.past = -1 / a;
    return;
  }
  const b = (before + beforeThat) / 2;
  const bend = a / (a + b);
  to.now = (1 + bend) / a;
  to.older = bend / b;
  to.past = -to.now - to.older;
}

/** The three arrays of a history move on by one: what `mean` held becomes the past, and it may be filled anew. */
export function rotate(history: MeanHistory): void {
  const { mean, past, older } = history;
  history.mean = older;
  history.past = mean;
  history.older = past;
}

/** V along a line at the end of the core step; remembers its mean EMF. */
export function lineVoltageAtEnd(
  history: LineHistory,
  over: Difference,
  wire: WireState,
  line: DriveLine,
  ends: LineEnd,
  weights: SlopeWeights,
): number {
  const mean = lineEmf(wire, over, line, ends.linkage, ends.slopes, ends.air);
  const slope = weights.now * mean + weights.past * history.past + weights.older * history.older;
  history.older = history.past;
  history.past = mean;
  const { resistance, inductance, scale } = line.model;
  const own = (inductance * (line.next - ends.lag)) / wire.sections.lossTime;
  return resistance * line.next + own + scale * (mean + (slope * ends.length) / 2);
}

/** A line at the end of a core step of `length`, s: linkage with cores, Wb; their slopes by role and section, H; air coupling, H; lagged current, A. */
export interface LineEnd {
  readonly linkage: number;
  readonly slopes: Float64Array;
  readonly air: Float64Array;
  readonly lag: number;
  readonly length: number;
}

/** The mean of a slope over the core step from its ends; its end is the next one's start. */
export function meanSlope({ end, start, mean }: SlopeMean): void {
  for (let i = 0; i < end.length; i++) {
    mean[i] = (start[i]! + end[i]!) / 2;
    start[i] = end[i]!;
  }
}
