import { applyPatches, type Json, type Patch } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import type { Design } from '../design/design.ts';
import { averagedOver, standing } from './align/sampled.ts';
import { lineUp, readOf, type LineUp, type Placing } from './align/line-up.ts';
import { cutTrace, thinTrace, throughPole, traceNoise, type Trace } from './align/trace-tools.ts';
import type { BenchRuns } from './bench-runs.ts';
import { observedTrace, type Observed } from './compare.ts';
import type { UnknownName } from './unknown-table.ts';
import { rangeOf } from './unknowns.ts';
import { bandwidthBefore, extrasOf, type Extra } from './fit-seen-through.ts';

/** One capture and how its conditions differ from the design. */
export interface FitCapture extends Placing {
  readonly label: string;
  /** s and V, as read. */
  readonly trace: Trace;
  /** Left out: volts. */
  readonly unit?: 'V' | 'A';
  /** What the file says over what is at the tip of the probe, where that is known: 0.1 where a x10 probe was not told. */
  readonly probe?: number;
  readonly observed?: Observed;
  /** Hz of the instrument and its probe, where that is known; a prediction is seen through it. */
  readonly bandwidth?: number;
  /** True: a fit finds it, from there on. */
  readonly freeBandwidth?: boolean;
  /** Changes of the design file under which it was taken: another bit, other currents, inhibited or not. */
  readonly changes?: readonly Patch[];
  /** For a diagnosis: taken of a healthy build, or at a healthy address, to compare with. */
  readonly healthy?: boolean;
}

/** A capture ready to be fitted: lined up with the design as it stands, thinned, its noise known. */
export interface Prepared {
  readonly capture: FitCapture;
  readonly observed: Observed;
  readonly start: Design;
  readonly line: LineUp;
  readonly trace: Trace;
  /** s about each of its instants: the samples whose mean it is. */
  readonly averaged: readonly number[];
  readonly sigma: number;
  readonly extras: readonly Extra[];
  /** Hz: of what it was seen through, or where a search for that starts; Infinity: nothing shows. */
  readonly bandwidth: number;
  /** s from the start of read: nothing after it need be run. */
  readonly until: number;
}

/** Samples of one capture that enter the fit; more are averaged. */
const MOST_SAMPLES = 3000;
/** s that a capture may still be shifted by before its end would be missed. */
const ROOM = 200e-9;

/** The design under which a capture was taken. Throws DesignError. */
export const designOf = (file: Json, { changes = [] }: FitCapture): Design =>
  checkDesign(applyPatches(file, changes));

/** Places a capture on what its design predicts. Throws LineUpError, FitError. */
export function placeCapture(
  design: Design,
  capture: FitCapture,
  runs: BenchRuns,
): Pick<Prepared, 'line' | 'until'> {
  const first = runs.need(design, noPrediction(capture));
  const predicted = throughPole(observedTrace(first, capture.observed ?? 'sense'), bandwidthBefore(capture));
  const line = lineUp(predicted, capture.trace, {
    ...capture,
    read: readOf(design),
  });
  const end = capture.trace.time[capture.trace.time.length - 1] - line.delay;
  return { line, until: Math.max(0, end) + ROOM };
}

export function prepareCapture(file: Json, capture: FitCapture, runs: BenchRuns): Prepared {
  const start = designOf(file, capture);
  const { line, until } = placeCapture(start, capture, runs);
  const kept = thinTrace(cutTrace(capture.trace, -Infinity, start.cycle.period + line.delay), MOST_SAMPLES);
  const noise = traceNoise(capture.trace.value).sigma;
  const peak = kept.value.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
  return {
    capture,
    observed: capture.observed ?? 'sense',
    start,
    line,
    trace: kept,
    averaged: averagedOver(kept),
    // A capture without any noise is computed, not measured; a millionth of its peak stands in.
    sigma: Math.max(noise / Math.sqrt(kept.block), 1e-6 * peak),
    extras: extrasOf(capture),
    bandwidth: bandwidthBefore(capture),
    until,
  };
}

/** What is refused where the design's run for a capture cannot be used. */
export const noPrediction = ({ label }: FitCapture) =>
  ({ field: '/design', what: `The design gives no prediction for ${label}` }) as const;

/** A capture under other conditions keeps its ratio to the base: half the drive stays half the drive. */
export function shareOf(
  p: Prepared,
  base: Design,
  names: readonly UnknownName[],
  values: ArrayLike<number>,
): Float64Array {
  return Float64Array.from(values, (value, i) => {
    const [own, shared] = [rangeOf(p.start, names[i])?.start ?? 0, rangeOf(base, names[i])?.start ?? 0];
    return shared === 0 ? value : (value * own) / shared;
  });
}

/** Prediction minus capture, in standard deviations of the noise. */
export function residualsOf(c: Prepared, model: Trace, line: LineUp): Float64Array {
  const { averaged } = c;
  return Float64Array.from(c.trace.time, (t, i) => {
    // Of a thinned capture the mean at its own instants: means that are interpolated in turn round every edge off.
    let sum = 0;
    for (const shift of averaged) sum += standing(model, t - line.delay + shift);
    const predicted = sum / averaged.length;
    return (line.gain * predicted + line.offset - c.trace.value[i]) / c.sigma;
  });
}
