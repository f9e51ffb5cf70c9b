import { median } from '../../numerics/statistics.ts';

/** One quantity over time. Time in s, rising. */
export interface Trace {
  readonly time: Float64Array;
  readonly value: Float64Array;
}

/** What a trace says about its own noise. */
export interface TraceNoise {
  /** Standard deviation of one sample, in the unit of the trace; never under a quantisation step over sqrt(12). */
  readonly sigma: number;
  /** Smallest difference between two values that occur; 0 when all values are alike. */
  readonly step: number;
}

/** Samples looked at for the smallest step. */
const LOOKED_AT = 20_000;

/**
 * Noise from differences of the third order, which a smooth signal sampled densely hardly leaves anything in:
 * sigma = 1.4826 median |y0 - 3 y1 + 3 y2 - y3| / sqrt(20).
 */
export function traceNoise(value: Float64Array): TraceNoise {
  const step = smallestStep(value);
  if (value.length < 8) return { sigma: step / Math.sqrt(12), step };
  const differences = new Float64Array(value.length - 3);
  for (let i = 0; i < differences.length; i++) {
    differences[i] = Math.abs(value[i] - 3 * value[i + 1] + 3 * value[i + 2] - value[i + 3]);
  }
  return { sigma: Math.max((1.4826 * median(differences)) / Math.sqrt(20), step / Math.sqrt(12)), step };
}

/** Distances under a ten-millionth of the range are rounding, not steps. */
function smallestStep(value: Float64Array): number {
  const sorted = Float64Array.from(value.subarray(0, LOOKED_AT)).sort();
  const floor = 1e-7 * (sorted[sorted.length - 1] - sorted[0]);
  let step = Infinity;
  for (let i = 1; i < sorted.length; i++) {
    const d = sorted[i] - sorted[i - 1];
    if (d > floor && d < step) step = d;
  }
  return Number.isFinite(step) ? step : 0;
}

/** Value at any instant by straight lines; before the first sample the first value, after the last NaN. */
export function valueAt(trace: Trace, t: number): number {
  const { time, value } = trace;
  const last = time.length - 1;
  if (t <= time[0]) return value[0];
  if (t > time[last]) return NaN;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (time[middle] <= t) low = middle;
    else high = middle;
  }
  const f = (t - time[low]) / (time[high] - time[low]);
  return value[low] + f * (value[high] - value[low]);
}

/** The part from `from` to `to`, s, ends included. */
export function cutTrace(trace: Trace, from: number, to: number): Trace {
  const keep = [...trace.time.keys()].filter((i) => trace.time[i] >= from && trace.time[i] <= to);
  return {
    time: Float64Array.from(keep, (i) => trace.time[i]),
    value: Float64Array.from(keep, (i) => trace.value[i]),
  };
}

/** At most `most` samples, each the mean of as many neighbours as needed; `block` says how many. */
export function thinTrace(trace: Trace, most: number): Trace & { readonly block: number } {
  const block = Math.ceil(trace.time.length / most);
  if (block <= 1) return { ...trace, block: 1 };
  const count = Math.floor(trace.time.length / block);
  const mean = (values: Float64Array, k: number): number => {
    let sum = 0;
    for (let i = k * block; i < (k + 1) * block; i++) sum += values[i];
    return sum / block;
  };
  return {
    time: Float64Array.from({ length: count }, (_, k) => mean(trace.time, k)),
    value: Float64Array.from({ length: count }, (_, k) => mean(trace.value, k)),
    block,
  };
}

/** Uniform samples every `interval` s from the first to the last instant, by straight lines. */
export function resampleTrace(trace: Trace, interval: number): Float64Array {
  const { time, value } = trace;
  const count = Math.floor((time[time.length - 1] - time[0]) / interval + 1e-9) + 1;
  const out = new Float64Array(count);
  let k = 0;
  for (let i = 0; i < count; i++) {
    const t = time[0] + i * interval;
    while (k < time.length - 2 && time[k + 1] < t) k++;
    const f = Math.min(1, Math.max(0, (t - time[k]) / (time[k + 1] - time[k])));
    out[i] = value[k] + f * (value[k + 1] - value[k]);
  }
  return out;
}

/** A trace through a single pole, Hz, exact for straight lines between its samples; it starts settled. */
export function throughPole({ time, value }: Trace, bandwidth: number): Trace {
  if (!Number.isFinite(bandwidth)) return { time, value };
  const tau = 1 / (2 * Math.PI * bandwidth);
  const out = new Float64Array(value.length);
  out[0] = value[0];
  for (let i = 1; i < value.length; i++) {
    const h = (time[i] - time[i - 1]) / tau;
    const keep = Math.exp(-h);
    const ramp = h > 0 ? (1 - keep) / h : 1;
    out[i] = keep * out[i - 1] + (1 - ramp) * value[i] + (ramp - keep) * value[i - 1];
  }
  return { time, value: out };
}
