import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';

export interface StrobeInterval {
  readonly start: number;
  readonly end: number;
}

/**
 * Every interval of strobe times that passes: over the whole guard time about the strobe the least ONE is at or
 * above `threshold + uncertainty` and the greatest ZERO at or below `threshold - uncertainty`. Edges are the
 * crossings of straight lines between samples, so they do not depend on the sampling but through the curvature of
 * the traces. `threshold` is the one at the start of read; the detector's slope is added to it.
 */
export function passIntervals(
  envelope: StrobeEnvelope,
  threshold: number,
  {
    threshold: uncertainty,
    guard,
    delay,
    slope,
  }: Pick<StrobeUncertainties, 'threshold' | 'guard' | 'delay' | 'slope'>,
): StrobeInterval[] {
  const { time, one, zero, search } = envelope;
  const last = time.length - 1;
  const step = (time[last] - time[0]) / last;
  const from = Math.max(time[0], search.start - delay);
  const to = Math.min(time[last], search.end - delay);
  const found: StrobeInterval[] = [];
  let start = NaN;
  let end = NaN;
  const close = (): void => {
    if (end - start >= 2 * guard) found.push({ start: start + guard + delay, end: end - guard + delay });
    start = NaN;
  };
  const first = Math.max(0, Math.floor((from - time[0]) / step) - 1);
  for (let i = first; i < last && time[i] < to; i++) {
    if (time[i + 1] <= from) continue;
    const shift0 = threshold + slope * Math.max(0, time[i]);
    const shift1 = threshold + slope * Math.max(0, time[i + 1]);
    const one0 = one[i] - shift0 - uncertainty;
    const one1 = one[i + 1] - shift1 - uncertainty;
    const zero0 = shift0 - uncertainty - zero[i];
    const zero1 = shift1 - uncertainty - zero[i + 1];
    const h = time[i + 1] - time[i];
    let low = Math.max(0, (from - time[i]) / h);
    let high = Math.min(1, (to - time[i]) / h);
    if (one0 < 0) low = one1 < 0 ? 2 : Math.max(low, one0 / (one0 - one1));
    else if (one1 < 0) high = Math.min(high, one0 / (one0 - one1));
    if (zero0 < 0) low = zero1 < 0 ? 2 : Math.max(low, zero0 / (zero0 - zero1));
    else if (zero1 < 0) high = Math.min(high, zero0 / (zero0 - zero1));
    if (low > high) {
      if (!Number.isNaN(start)) close();
      continue;
    }
    if (!Number.isNaN(start) && low > 0) close();
    if (Number.isNaN(start)) start = time[i] + low * h;
    end = time[i] + high * h;
    if (high < 1) close();
  }
  if (!Number.isNaN(start)) close();
  return found;
}

/**
 * Thresholds (as at the start of read) that pass at one strobe time; low > high where none does. `uncertainty`
 * and `guard` as in passIntervals.
 */
export function passBand(
  envelope: StrobeEnvelope,
  strobe: number,
  {
    threshold: uncertainty,
    guard,
    delay,
    slope,
  }: Pick<StrobeUncertainties, 'threshold' | 'guard' | 'delay' | 'slope'>,
): { readonly low: number; readonly high: number } {
  const centre = strobe - delay;
  return {
    low: -leastOver(envelope.time, envelope.zero, centre - guard, centre + guard, -1, slope) + uncertainty,
    high: leastOver(envelope.time, envelope.one, centre - guard, centre + guard, 1, slope) - uncertainty,
  };
}

/** Least of sign * (values - slope * time) between two instants, ends interpolated and held beyond the trace. */
export function leastOver(
  time: Float64Array,
  values: Float64Array,
  from: number,
  to: number,
  sign: 1 | -1,
  slope: number,
): number {
  const n = time.length;
  const step = (time[n - 1] - time[0]) / (n - 1);
  const at = (t: number): number => {
    const x = Math.max(0, Math.min(n - 1, (t - time[0]) / step));
    const i = Math.min(n - 2, Math.floor(x));
    const value = values[i] + (values[i + 1] - values[i]) * (x - i);
    return sign * (value - slope * Math.max(0, t));
  };
  let least = Math.min(at(from), at(to));
  const first = Math.max(0, Math.ceil((from - time[0]) / step));
  const end = Math.min(n - 1, Math.floor((to - time[0]) / step));
  for (let i = first; i <= end; i++)
    least = Math.min(least, sign * (values[i] - slope * Math.max(0, time[i])));
  return least;
}

/** The region of strobe time and threshold in which both hold, as one band for each sample where it is open. */
export function findOpening(
  envelope: StrobeEnvelope,
  uncertainties: StrobeUncertainties,
): { readonly time: number; readonly low: number; readonly high: number }[] {
  const opening: { time: number; low: number; high: number }[] = [];
  for (const time of envelope.time) {
    if (time < envelope.search.start || time > envelope.search.end) continue;
    const { low, high } = passBand(envelope, time, uncertainties);
    if (low <= high) opening.push({ time, low, high });
  }
  return opening;
}
