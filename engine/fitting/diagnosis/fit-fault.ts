import type { Simulation } from '../../solver/result.ts';
import type { BenchRuns } from '../bench-runs.ts';
import { observedTrace } from '../compare.ts';
import { throughPole } from '../align/trace-tools.ts';
import type { Trace } from '../align/trace-tools.ts';
import type { Fault, Severity } from './fault.ts';
import { standing } from './seen.ts';
import type { Seen } from './seen.ts';

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

/** One explanation laid on all captures. */
export interface Laid {
  /** Sum of squares over what is allowed, each capture divided by how many of its samples are alike. */
  readonly chiSquare: number;
  readonly severity: number | undefined;
  readonly traces: readonly ExplainedTrace[];
}

/** One or several faults together, and how they lie. */
export interface LaidFaults {
  readonly faults: readonly Fault[];
  readonly severities: readonly number[];
  readonly laid: Laid;
}

/** What an explanation predicts of each capture, and of the strobe's instant, s; undefined: no finite answer. */
export type Predict = (severities: readonly number[]) => Predicted | undefined;
interface Predicted {
  readonly traces: readonly Trace[];
  readonly strobe: number;
}

/** Predictions of faults together, each at its severity, remembered. */
export function predictor(faults: readonly Fault[], seen: readonly Seen[], runs: BenchRuns): Predict {
  const kept = new Map<string, Predicted | undefined>();
  return (severities) => {
    // A fault that moves nothing in the build needs one run only.
    const key = faults.map((f, i) => (f.movesStrobe || f.seen ? 0 : severities[i])).join(',');
    if (!kept.has(key)) kept.set(key, predictAll(faults, seen, severities, runs));
    const plain = kept.get(key);
    if (plain === undefined) return undefined;
    const late = faults.reduce((sum, f, i) => sum + (f.movesStrobe === true ? severities[i] : 0), 0);
    const traces = plain.traces.map((trace) =>
      faults.reduce((t, f, i) => f.seen?.(t, severities[i]) ?? t, trace),
    );
    return { traces, strobe: plain.strobe + late };
  };
}

function predictAll(
  faults: readonly Fault[],
  seen: readonly Seen[],
  severities: readonly number[],
  runs: BenchRuns,
): Predicted | undefined {
  const polarity = faults.reduce((sign, f) => sign * (f.polarity ?? 1), 1);
  let strobe = NaN;
  const traces: Trace[] = [];
  for (const s of seen) {
    const design = faults.reduce((d, f, i) => f.change(d, severities[i]), s.healthy);
    const special = faults.find((f) => f.terms !== undefined);
    const terms = special?.terms?.(design) ?? [{ design, weight: 1 }];
    let sum: Float64Array | undefined;
    let first: Simulation | undefined;
    for (const { design: d, weight } of terms) {
      const run = runs.run(d, { until: s.until });
      if (run === undefined) return undefined;
      first ??= run;
      const { value } = observedTrace(run, s.observed);
      if (sum === undefined) sum = value.map((v) => polarity * weight * v);
      else
        for (let i = 0; i < Math.min(sum.length, value.length); i++) sum[i] += polarity * weight * value[i];
    }
    if (first === undefined || sum === undefined) return undefined;
    if (Number.isNaN(strobe)) strobe = first.strobe.time;
    traces.push(throughPole({ time: first.time, value: sum }, s.bandwidth));
  }
  return { traces, strobe };
}

/** Lays faults together on all captures at given severities. */
export function layAt(
  predict: Predict,
  severities: readonly number[],
  seen: readonly Seen[],
  strobeAt: number | undefined,
): Laid {
  const now = predict(severities);
  const severity = severities[0];
  if (now === undefined) return { chiSquare: Infinity, severity, traces: [] };
  const lies = seen.map((s, k) => lay(now.traces[k], s));
  const strobe = strobeAt === undefined ? 0 : ((strobeAt - lies[0].delay - now.strobe) / STROBE_READING) ** 2;
  return {
    severity,
    chiSquare: lies.reduce((sum, { chiSquare }, k) => sum + chiSquare / seen[k].alike, strobe),
    traces: seen.map((s, k) => {
      const { delay, offset, gain } = lies[k];
      const time = s.trace.time.map((t) => t - delay);
      return {
        label: s.label,
        time,
        measured: s.trace.value.map((v) => (v - offset) / gain),
        predicted: time.map((t) => standing(now.traces[k], t)),
      };
    }),
  };
}

interface Lies {
  readonly delay: number;
  readonly offset: number;
  readonly gain: number;
  readonly chiSquare: number;
}

/** The delay, with the best offset (and gain) at each, that lays a prediction on a capture. */
function lay(predicted: Trace, s: Seen): Lies {
  const at = (delay: number): Lies => straight(predicted, s, delay);
  const best = (some: readonly Lies[]): Lies => some.reduce((a, b) => (b.chiSquare < a.chiSquare ? b : a));
  let found = best(s.anchors.flatMap((anchor) => GRID.map((shift) => at(anchor + shift))));
  for (let step = 4e-9; step > 0.05e-9; step /= 2)
    found = best([found, at(found.delay - step), at(found.delay + step)]);
  return found;
}

const GRID = Array.from({ length: 13 }, (_, i) => (i - 6) * 8e-9);

/** Weighted least squares of offset, and of the gain where it is free. */
function straight(predicted: Trace, s: Seen, delay: number): Lies {
  const { time, value } = s.trace;
  let [w, wx, wy, wxx, wxy, wyy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < time.length; i++) {
    const x = standing(predicted, time[i] - delay);
    const weight = 1 / s.sigma[i] ** 2;
    w += weight;
    wx += weight * x;
    wy += weight * value[i];
    wxx += weight * x * x;
    wxy += weight * x * value[i];
    wyy += weight * value[i] * value[i];
  }
  const across = wxx - (wx * wx) / w;
  const free = s.freeGain && across > 0 ? (wxy - (wx * wy) / w) / across : 1;
  const gain = free > 0 ? free : 1;
  const offset = (wy - gain * wx) / w;
  const chiSquare =
    wyy + gain * gain * wxx + offset * offset * w - 2 * gain * wxy - 2 * offset * wy + 2 * gain * offset * wx;
  return { delay, offset, gain, chiSquare: Math.max(0, chiSquare) };
}

/** Halvings of the distance to the neighbours. */
const HALVINGS = 6;

/** The severity that fits best among a few tried ones. */
export function screen(severity: Severity | undefined, layOn: (severity: number) => Laid): readonly Laid[] {
  if (severity === undefined) return [{ ...layOn(0), severity: undefined }];
  return [...new Set([severity.low, ...severity.tried, severity.high])].map(layOn);
}

/** From a few severities again and again the middles to the neighbours of the best. */
export function zoomIn(tried: readonly Laid[], layOn: (severity: number) => Laid, rounds = HALVINGS): Laid {
  const known = [...tried];
  const bySeverity = (a: Laid, b: Laid): number => (a.severity as number) - (b.severity as number);
  for (let round = 0; ; round++) {
    known.sort(bySeverity);
    const at = known.reduce((best, l, i) => (l.chiSquare < known[best].chiSquare ? i : best), 0);
    if (round === rounds || known.length < 2) return known[at];
    const middles = [known[at - 1], known[at + 1]].filter((l) => l !== undefined);
    known.push(...middles.map((l) => layOn(between(l.severity as number, known[at].severity as number))));
  }
}

/** The middle by ratio where both have one sign: severities go over decades. */
const between = (a: number, b: number): number => (a > 0 && b > 0 ? Math.sqrt(a * b) : (a + b) / 2);
