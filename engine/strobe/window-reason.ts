import { valueAt } from '../sense-amplifier/detector.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { passIntervals } from './intervals.ts';
import type { StrobeWindow } from './window-result.ts';

/** Why no strobe passes at a threshold of so many V. Times in s from the start of read, voltages in V at the sense wire. */
export type Closed = { readonly threshold: number } & (
  | { readonly why: 'one-too-low'; readonly peak: number; readonly time: number }
  /** Another threshold would do, at that time. */
  | { readonly why: 'other-threshold'; readonly time: number; readonly low: number; readonly high: number }
  /** None would; they differ most at that time. */
  | { readonly why: 'zero-above-one'; readonly time: number; readonly one: number; readonly zero: number }
  | { readonly why: 'threshold-uncertain'; readonly uncertainty: number }
  /** Aperture and jitter take that long. */
  | { readonly why: 'too-narrow'; readonly width: number }
);

/** A margin under this part of the greatest ONE is rounding, not a signal. */
const NOTHING = 1e-4;

/** What keeps every strobe from passing at this threshold. */
export function whyClosed(
  envelope: StrobeEnvelope,
  threshold: number,
  uncertainties: StrobeUncertainties,
): Closed {
  const { slope, delay, guard, threshold: uncertainty } = uncertainties;
  const { one, zero, time } = envelope;
  const exact = { threshold: 0, guard: 0, delay, slope };
  const at = (trace: Float64Array, strobe: number): number => valueAt(time, trace, strobe - delay);
  const peak = bestInstant(envelope, delay, (i) => one[i]);
  if (passIntervals({ ...envelope, zero: zero.map(() => -1e9) }, threshold, exact).length === 0)
    return { why: 'one-too-low', threshold, peak: at(one, peak), time: peak };
  if (passIntervals(envelope, threshold, exact).length === 0) {
    const widest = bestInstant(envelope, delay, (i) => one[i] - zero[i]);
    const [low, high] = [at(zero, widest), at(one, widest)];
    if (high - low > NOTHING * at(one, peak))
      return { why: 'other-threshold', threshold, time: widest, low, high };
    const near = nearestToPassing(envelope, threshold, uncertainties);
    return { why: 'zero-above-one', threshold, time: near, one: at(one, near), zero: at(zero, near) };
  }
  if (passIntervals(envelope, threshold, { ...exact, threshold: uncertainty }).length === 0)
    return { why: 'threshold-uncertain', threshold, uncertainty };
  return { why: 'too-narrow', threshold, width: 2 * guard };
}

/** Which side is to blame. */
export const CLOSED_BY: Readonly<Record<Closed['why'], NonNullable<StrobeWindow['closedBy']>>> = {
  'one-too-low': 'one',
  'other-threshold': 'zero',
  'zero-above-one': 'zero',
  'threshold-uncertain': 'threshold',
  'too-narrow': 'strobe',
};

/**
 * Strobe time at which the smaller of ONE over threshold and threshold over ZERO is greatest (though negative). Where
 * the ZERO is above the ONE throughout, that would be some edge at which neither says anything: then it is where ONE
 * and ZERO differ most on the average of their bands, which is the bell of the selected core.
 */
export function nearestToPassing(
  envelope: StrobeEnvelope,
  threshold: number,
  { delay, slope }: Pick<StrobeUncertainties, 'delay' | 'slope'>,
): number {
  const { one, zero, oneHigh, zeroLow } = envelope;
  const peak = one.reduce((most, value) => Math.max(most, value), 0);
  const apart = one.some((value, i) => value - zero[i] > NOTHING * peak);
  return bestInstant(envelope, delay, (i, t) => {
    const level = threshold + slope * Math.max(0, t);
    if (!apart) return one[i] + oneHigh[i] - zero[i] - zeroLow[i];
    return Math.min(one[i] - level, level - zero[i]);
  });
}

/** Strobe time, among the samples, of the greatest score. */
function bestInstant(
  { time, search }: StrobeEnvelope,
  delay: number,
  score: (i: number, t: number) => number,
): number {
  let best = -Infinity;
  let found = search.start;
  for (let i = 0; i < time.length; i++) {
    const strobe = time[i] + delay;
    if (strobe < search.start || strobe > search.end) continue;
    const value = score(i, time[i]);
    if (value <= best) continue;
    best = value;
    found = strobe;
  }
  return found;
}
