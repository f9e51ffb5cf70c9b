import type { Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { leastSquares } from '../../numerics/levenberg-marquardt.ts';
import { lineUp, readOf } from '../align/line-up.ts';
import { straightLine } from '../align/refine-line-up.ts';
import { thinTrace, traceNoise, valueAt, type Trace } from '../align/trace-tools.ts';
import type { BenchRuns } from '../bench-runs.ts';
import { observedTrace, type Observed } from '../compare.ts';
import { designOf, type FitCapture } from '../fit-captures.ts';
import type { Fault } from './fault.ts';

export interface ExplainedTrace {
  readonly label: string;
  /** s from the start of read. */
  readonly time: Float64Array;
  /** V, offset removed. */
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
}

/** s: a strobe seen on a screen is read no better than this. */
const STROBE_READING = 2e-9;
const MOST_SAMPLES = 1500;

/** A capture to be explained. */
export interface Seen {
  readonly label: string;
  readonly observed: Observed;
  readonly healthy: Design;
  /** The right way up where the probe is known to lie reversed. */
  readonly trace: Trace;
  readonly sigma: number;
  readonly capture: FitCapture;
  /** Parameters of its own: delay, offset and, when free, gain. */
  readonly extras: 2 | 3;
}

/** One explanation laid on all captures. */
export interface Laid {
  readonly chiSquare: number;
  readonly severity: number | undefined;
  readonly traces: readonly ExplainedTrace[];
}

/** A capture with the design it ought to follow. */
export function see(file: Json, capture: FitCapture, modelTolerance: number): Seen {
  const kept = thinTrace(capture.trace, MOST_SAMPLES);
  const value = capture.polarity === 'reversed' ? kept.value.map((v) => -v) : kept.value;
  const centre = value.reduce((s, v) => s + v, 0) / value.length;
  const peak = value.reduce((m, v) => Math.max(m, Math.abs(v - centre)), 0);
  const noise = traceNoise(capture.trace.value).sigma / Math.sqrt(kept.block);
  return {
    label: capture.label,
    observed: capture.observed ?? 'sense',
    healthy: designOf(file, capture),
    trace: { time: kept.time, value },
    sigma: Math.hypot(noise, modelTolerance * peak) || 1e-9,
    capture,
    extras: capture.probeGain === 'free' ? 3 : 2,
  };
}

/** What a fault of some severity gives: each capture's trace, and the strobe's instant, s. */
interface Predicted {
  readonly traces: readonly Trace[];
  readonly strobe: number;
}
/** Undefined where the model has no finite answer. */
type Predict = (severity: number) => Predicted | undefined;

/**
 * Fits one fault: severities tried, the best zoomed in on, then refined together with delay, offset and free gain of
 * each capture. `until`, s from the start of read: nothing later need be run. Throws FitCancelled.
 */
export function layFault(
  fault: Fault,
  seen: readonly Seen[],
  strobeAt: number | undefined,
  until: number,
  runs: BenchRuns,
): Laid {
  const polarity = fault.polarity ?? 1;
  const kept = new Map<number, Predicted | undefined>();
  const compute = (severity: number): Predicted | undefined => {
    const results = seen.map((s) => runs.run(fault.change(s.healthy, severity), { until }));
    const traces = results.flatMap((run, k) => {
      if (run === undefined) return [];
      const { time, value } = observedTrace(run, seen[k].observed);
      return [{ time, value: polarity === 1 ? value : value.map((v) => -v) }];
    });
    return traces.length < seen.length ? undefined : { traces, strobe: results[0]!.strobe.time };
  };
  const predict: Predict = (severity) => {
    // A fault that moves no trace needs one run only.
    const key = fault.movesStrobe === true ? 0 : severity;
    if (!kept.has(key)) kept.set(key, compute(key));
    return kept.get(key);
  };

  const lay = (severity: number): Laid => refine(fault, severity, seen, strobeAt, predict, false);
  const { severity: range } = fault;
  if (range === undefined) return { ...lay(0), severity: undefined };
  const start = zoomIn([range.low, ...range.tried, range.high].map(lay), lay);
  return refine(fault, start, seen, strobeAt, predict, true);
}

/** Halvings of the distance to the neighbours before least squares take over. */
const HALVINGS = 5;

/**
 * The severity that fits best among a few and, again and again, the middles to its neighbours. Steep edges that do
 * not overlap have no slope that least squares could follow.
 */
function zoomIn(tried: readonly Laid[], lay: (severity: number) => Laid): number {
  const known = [...tried];
  const bySeverity = (a: Laid, b: Laid): number => (a.severity as number) - (b.severity as number);
  for (let round = 0; ; round++) {
    known.sort(bySeverity);
    const at = known.reduce((best, l, i) => (l.chiSquare < known[best].chiSquare ? i : best), 0);
    if (round === HALVINGS) return known[at].severity as number;
    const middles = [known[at - 1], known[at + 1]].filter((l) => l !== undefined);
    known.push(...middles.map((l) => lay(((l.severity as number) + (known[at].severity as number)) / 2)));
  }
}

/** Where each capture's own parameters begin, after `first` others. */
function placesOf(seen: readonly Seen[], first: number): number[] {
  let next = first;
  return seen.map(({ extras }) => {
    const place = next;
    next += extras;
    return place;
  });
}

/** Least squares over delay, offset and free gain of each capture and, when `moving`, the severity. */
function refine(
  fault: Fault,
  severity: number,
  seen: readonly Seen[],
  strobeAt: number | undefined,
  predict: Predict,
  moving: boolean,
): Laid {
  const first = predict(severity);
  if (first === undefined) return { chiSquare: Infinity, severity, traces: [] };
  const starts = seen.map((s, k) => startOf(first.traces[k], s));
  const m = moving ? 1 : 0;
  const places = placesOf(seen, m);
  const own = (p: Float64Array, k: number): Start => {
    const [i, { delay, offset, gain }] = [places[k], starts[k]];
    return { delay: delay + p[i], offset: offset + p[i + 1], gain: seen[k].extras === 3 ? p[i + 2] : gain };
  };
  const samples = seen.reduce((sum, s) => sum + s.trace.time.length, strobeAt === undefined ? 0 : 1);
  const residuals = (p: Float64Array): Float64Array => {
    const now = moving ? predict(p[0]) : first;
    if (now === undefined) return new Float64Array(samples).fill(NaN);
    const parts = seen.map((s, k) => {
      const { delay, offset, gain } = own(p, k);
      return s.trace.time.map(
        (t, i) => (gain * at(now.traces[k], t - delay) + offset - s.trace.value[i]) / s.sigma,
      );
    });
    if (strobeAt !== undefined) {
      const late = fault.movesStrobe === true ? (moving ? p[0] : severity) : 0;
      parts.push(Float64Array.of((strobeAt - own(p, 0).delay - now.strobe - late) / STROBE_READING));
    }
    return Float64Array.from(parts.flatMap((part) => Array.from(part)));
  };
  const free = { low: -Infinity, high: Infinity };
  const nuisance = seen.flatMap((s, k) => [
    { ...free, start: 0, scale: 1e-9 },
    { ...free, start: 0, scale: s.sigma },
    ...(s.extras === 3 ? [{ ...free, low: 0, start: starts[k].gain, scale: starts[k].gain }] : []),
  ]);
  const range = fault.severity;
  const parameters = [
    ...(moving && range ? [{ ...range, start: severity, scale: Math.abs(severity) }] : []),
    ...nuisance,
  ];
  const fit = leastSquares(
    {
      residuals,
      start: parameters.map((p) => p.start),
      scale: parameters.map((p) => p.scale),
      lower: parameters.map((p) => p.low),
      upper: parameters.map((p) => p.high),
    },
    { maxIterations: moving ? 12 : 8, tolerance: 1e-3, differenceStep: 1e-3 },
  );
  const final = (moving ? predict(fit.parameters[0]) : first) ?? first;
  return {
    chiSquare: fit.cost,
    severity: moving ? fit.parameters[0] : severity,
    traces: seen.map((s, k) => {
      const { delay, offset, gain } = own(fit.parameters, k);
      const time = s.trace.time.map((t) => t - delay);
      return {
        label: s.label,
        time,
        measured: s.trace.value.map((v) => (v - offset) / gain),
        predicted: time.map((t) => at(final.traces[k], t)),
      };
    }),
  };
}

interface Start {
  readonly delay: number;
  readonly offset: number;
  readonly gain: number;
}

/** Where the line-up puts a prediction; a fault may leave a trace that matches nowhere, and then starts at 0. */
export function startOf(predicted: Trace, s: Seen): Start {
  const { part, probeGain } = s.capture;
  try {
    return lineUp(predicted, s.trace, { part, probeGain, polarity: 'as-predicted', read: readOf(s.healthy) });
  } catch {
    const delay = s.trace.time[0];
    const { gain, offset } = straightLine(predicted, s.trace, delay, 1, probeGain === 'free');
    return { delay, offset, gain: gain > 0 ? gain : 1 };
  }
}

/** After the prediction's end it stands still: what follows belongs to the next cycle. */
const at = (trace: Trace, t: number): number =>
  valueAt(trace, Math.min(t, trace.time[trace.time.length - 1]));
