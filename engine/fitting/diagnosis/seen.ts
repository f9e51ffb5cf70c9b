import type { Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { thinTrace, traceNoise, type Trace } from '../align/trace-tools.ts';
import type { BenchRuns } from '../bench-runs.ts';
import { observedTrace, type Observed } from '../compare.ts';
import { designOf, noPrediction, type FitCapture } from '../fit-captures.ts';
import { anchorsOf, restOf } from './anchors.ts';
import { leewayOf, type Leeway } from './leeway.ts';
import { asSampled, averagedOver } from '../align/sampled.ts';

/** A capture to be explained. */
export interface Seen {
  readonly label: string;
  readonly observed: Observed;
  /** The design it ought to follow. */
  readonly healthy: Design;
  /** It was taken of a healthy build or address: no fault changes what it is expected to be. */
  readonly isReference: boolean;
  /** Thinned, the right way up where the probe is known to lie reversed. */
  readonly trace: Trace;
  /** s about each of its instants: the samples whose mean it is. */
  readonly averaged: readonly number[];
  /** V: what noise and the model's own error allow at each sample. */
  readonly sigma: Float64Array;
  /** Samples that say as much as one: the model's errors are alike over some time. */
  readonly alike: number;
  /** Places, s, at which the read may start on its own time, likeliest first. */
  readonly anchors: readonly number[];
  readonly freeGain: boolean;
  /** s from the start of read; nothing later need be run. */
  readonly until: number;
  /** How it may differ though nothing is wrong. */
  readonly leeway: readonly Leeway[];
}

const MOST_SAMPLES = 700;
/** s over which errors of the model are alike, and by which its edges may be off. */
const ALIKE = 12e-9;
const EDGE = 1e-9;
/** s that a run goes on after the end of a capture. */
const ROOM = 200e-9;

/** A capture with the design it ought to follow. Throws FitError, DesignError. */
export function see(
  file: Json,
  capture: FitCapture,
  modelTolerance: number,
  runs: BenchRuns,
  beside: boolean,
): Seen {
  const healthy = designOf(file, capture);
  const run = runs.need(healthy, noPrediction(capture));
  const observed = capture.observed ?? 'sense';
  const turn = capture.polarity === 'reversed' ? -1 : 1;
  const trace = thinTrace(
    { time: capture.trace.time, value: capture.trace.value.map((v) => turn * v) },
    MOST_SAMPLES,
  );
  const noise = traceNoise(capture.trace.value).sigma / Math.sqrt(trace.block);
  const allowed = allowedError(trace, noise, modelTolerance);
  const sigma = allowed.map((v) => Math.hypot(noise, v) || 1e-9);
  const interval = (trace.time[trace.time.length - 1] - trace.time[0]) / (trace.time.length - 1);
  const averaged = averagedOver(trace);
  const share = sigma.reduce((sum, v, i) => sum + (allowed[i] / v) ** 2, 0) / sigma.length;
  const anchors = anchorsOf(observedTrace(run, observed), trace, capture, healthy);
  const span = trace.time[trace.time.length - 1] - Math.min(...anchors);
  const until = Math.min(healthy.cycle.period, Math.max(0, span) + ROOM);
  return {
    label: capture.label,
    observed,
    healthy,
    isReference: capture.healthy === true,
    trace,
    averaged,
    sigma,
    alike: 1 + Math.max(0, ALIKE / interval - 1) * share,
    anchors,
    freeGain: capture.probeGain === 'free',
    until,
    leeway: leewayOf(healthy, observed, until, runs, beside).map(({ code, shape }) => ({
      code,
      shape: asSampled(shape, averaged),
    })),
  };
}

/** V by which the model may be off at each sample: a share of what is seen about there, and its slope over the edge. */
function allowedError({ time, value }: Trace, noise: number, tolerance: number): Float64Array {
  const n = value.length;
  const interval = (time[n - 1] - time[0]) / (n - 1);
  const reach = Math.max(1, Math.round(8e-9 / interval));
  const rest = restOf(value);
  // The mean of a few neighbours: noise alone is no slope.
  const smooth = value.map((_, i) => meanOf(value, Math.max(0, i - 2), Math.min(n - 1, i + 2)));
  return value.map((_, i) => {
    let [least, greatest] = [Infinity, -Infinity];
    for (let k = Math.max(0, i - reach); k <= Math.min(n - 1, i + reach); k++) {
      least = Math.min(least, smooth[k]);
      greatest = Math.max(greatest, smooth[k]);
    }
    const size = Math.max(Math.abs(least - rest), Math.abs(greatest - rest));
    const slope = Math.max(0, greatest - least - 2 * noise) / (2 * reach * interval);
    return Math.hypot(tolerance * size, EDGE * slope);
  });
}

function meanOf(value: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let k = from; k <= to; k++) sum += value[k];
  return sum / (to - from + 1);
}
