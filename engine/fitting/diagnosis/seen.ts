import type { Design } from '../../design/design.ts';
import { pulseInstants } from '../../drive/programme.ts';
import type { Json } from '../../studies/shared/shape.ts';
import type { BenchRuns } from '../bench-runs.ts';
import { FitError } from '../bench-runs.ts';
import { observedTrace } from '../compare.ts';
import type { Observed } from '../compare.ts';
import { designOf, judgeBy } from '../fit-captures.ts';
import type { FitCapture } from '../fit-captures.ts';
import type { Judgement } from '../judge/judgement.ts';
import { thinTrace, throughPole, traceNoise, valueAt } from '../align/trace-tools.ts';
import type { Trace } from '../align/trace-tools.ts';

/** Parts of a cycle that are judged separately. */
export const PARTS = ['edges', 'bell', 'tail', 'write'] as const;
export type Part = (typeof PARTS)[number];

/** A capture to be explained. */
export interface Seen {
  readonly label: string;
  readonly observed: Observed;
  readonly healthy: Design;
  readonly judgement: Judgement;
  /** Thinned, clipped samples left out, the right way up where the probe is known to lie reversed. */
  readonly trace: Trace;
  /** V: what noise and the model's own error allow at each sample. */
  readonly sigma: Float64Array;
  /** Samples that say as much as one: the model's errors are alike over some time. */
  readonly alike: number;
  /** Places, s, at which the read may start on its own time, likeliest first. */
  readonly anchors: readonly number[];
  /** Hz of the instrument where it is stated. */
  readonly bandwidth: number;
  readonly freeGain: boolean;
  /** s from the start of read; nothing later need be run. */
  readonly until: number;
}

const MOST_SAMPLES = 800;
/** s over which errors of the model are alike, and by which its edges may be off. */
const ALIKE = 12e-9;
const EDGE = 1e-9;

/** A capture with the design it ought to follow. Throws FitError where it cannot be used. */
export function see(
  file: Json,
  capture: FitCapture,
  modelTolerance: number,
  runs: BenchRuns,
  place: (predicted: Trace, trace: Trace, capture: FitCapture, healthy: Design) => readonly number[],
): Seen {
  const healthy = designOf(file, capture);
  const run = runs.run(healthy);
  if (run === undefined) throw new FitError('/design', NO_ANSWER);
  const observed = capture.observed ?? 'sense';
  const bandwidth = typeof capture.bandwidth === 'number' ? capture.bandwidth : Infinity;
  const prediction = throughPole(observedTrace(run, observed), bandwidth);
  const judgement = judgeBy(healthy, capture, prediction);
  const turn = (capture.polarity === 'reversed' ? -1 : 1) / (capture.probe ?? 1);
  const kept = [...capture.trace.time.keys()].filter((i) => judgement.clipped[i] === 0);
  const trace = thinTrace(
    {
      time: Float64Array.from(kept, (i) => capture.trace.time[i]),
      value: Float64Array.from(kept, (i) => turn * capture.trace.value[i]),
    },
    MOST_SAMPLES,
  );
  const noise = (Math.abs(turn) * traceNoise(capture.trace.value).sigma) / Math.sqrt(trace.block);
  const allowed = allowedError(trace, noise, modelTolerance);
  const sigma = allowed.map((v) => Math.hypot(noise, v) || 1e-9);
  const interval = (trace.time[trace.time.length - 1] - trace.time[0]) / (trace.time.length - 1);
  const share = sigma.reduce((sum, v, i) => sum + (allowed[i] / v) ** 2, 0) / sigma.length;
  const anchors = place(prediction, trace, capture, healthy);
  const span = trace.time[trace.time.length - 1] - Math.min(...anchors);
  return {
    label: capture.label,
    observed,
    healthy,
    judgement,
    trace,
    sigma,
    alike: 1 + Math.max(0, ALIKE / interval - 1) * share,
    anchors,
    bandwidth,
    freeGain: capture.probeGain === 'free',
    until: Math.min(healthy.cycle.period, Math.max(0, span) + 200e-9),
  };
}

export const NO_ANSWER =
  'The design must give a finite prediction and the solution left the range of numbers: make numerics.step smaller or its wire values less extreme.';

/** V by which the model may be off at each sample: a share of what is seen about there, and its slope over the edge. */
function allowedError({ time, value }: Trace, noise: number, tolerance: number): Float64Array {
  const n = value.length;
  const interval = (time[n - 1] - time[0]) / (n - 1);
  const reach = Math.max(1, Math.round(8e-9 / interval));
  const centre = [...value.subarray(0, Math.max(4, Math.floor(n * 0.03)))].sort((a, b) => a - b);
  const rest = centre[Math.floor(centre.length / 2)];
  // The mean of a few neighbours: noise alone is no slope.
  const smooth = value.map((_, i) => {
    let [sum, count] = [0, 0];
    for (let k = Math.max(0, i - 2); k <= Math.min(n - 1, i + 2); k++) {
      sum += value[k];
      count++;
    }
    return sum / count;
  });
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

/** Which part of the cycle an instant belongs to, s from the start of read. */
export function partOf(
  { drive, cycle }: Design,
  instants: ReturnType<typeof pulseInstants>,
  t: number,
): Part {
  const { x, y } = instants;
  const settle = 15e-9;
  const writeFrom =
    Math.min(x.writeOn, y.writeOn) - Math.max(drive.x.rise, drive.inhibit.lead + drive.inhibit.rise);
  if (t >= Math.min(writeFrom, cycle.period)) return 'write';
  const near = (middle: number, length: number): boolean =>
    t > middle - length / 2 - 5e-9 && t < middle + length / 2 + settle;
  if (t < 0 || near(x.readOn, drive.x.rise) || near(y.readOn, drive.y.rise)) return 'edges';
  if (near(x.readOff, drive.x.fall) || near(y.readOff, drive.y.fall)) return 'edges';
  return t < Math.min(x.readOff, y.readOff) ? 'bell' : 'tail';
}

/** What of a capture differs from a trace, by part: mean square over what is allowed. Parts of few samples are left out. */
export function misfitByPart(
  s: Seen,
  predicted: Float64Array,
  measured: Float64Array,
  time: Float64Array,
): Partial<Record<Part, number>> {
  const instants = pulseInstants(s.healthy);
  const sums: Record<Part, [number, number]> = { edges: [0, 0], bell: [0, 0], tail: [0, 0], write: [0, 0] };
  time.forEach((t, i) => {
    const sum = sums[partOf(s.healthy, instants, t)];
    sum[0] += ((predicted[i] - measured[i]) / s.sigma[i]) ** 2;
    sum[1]++;
  });
  return Object.fromEntries(
    PARTS.filter((part) => sums[part][1] >= 10).map((part) => [part, sums[part][0] / sums[part][1]]),
  );
}

/** A trace at an instant; after its end it stands still: what follows belongs to the next cycle. */
export const standing = (trace: Trace, t: number): number =>
  valueAt(trace, Math.min(t, trace.time[trace.time.length - 1]));
