import { valueAt } from '../sense-amplifier/detector.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { passIntervals } from './intervals.ts';
import type { StrobeWindow } from './window-result.ts';

/** Why no strobe passes at a threshold, and which side is to blame. */
export interface Closed {
  readonly sentence: string;
  readonly by: NonNullable<StrobeWindow['closedBy']>;
}

const volts = (value: number): string => formatQuantity(value, 'V');
const seconds = (value: number): string => formatQuantity(value, 's');

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
    return {
      by: 'one',
      sentence: `No window: the least ONE is at most ${volts(at(one, peak))} (at ${seconds(peak)}), under the threshold of ${volts(threshold)}.`,
    };
  if (passIntervals(envelope, threshold, exact).length === 0) {
    const widest = bestInstant(envelope, delay, (i) => one[i] - zero[i]);
    const margin = at(one, widest) - at(zero, widest);
    if (margin > NOTHING * at(one, peak))
      return {
        by: 'zero',
        sentence: `No window at a threshold of ${volts(threshold)}: wherever the least ONE is above it, the greatest ZERO is too; at ${seconds(widest)} a threshold between ${volts(at(zero, widest))} and ${volts(at(one, widest))} would do.`,
      };
    const near = nearestToPassing(envelope, threshold, uncertainties);
    return {
      by: 'zero',
      sentence: `No window at any threshold: the greatest ZERO is above the least ONE at every instant before the write; at ${seconds(near)}, where ONEs and ZEROs differ most, the least ONE is ${volts(at(one, near))} and the greatest ZERO ${volts(at(zero, near))}.`,
    };
  }
  if (passIntervals(envelope, threshold, { ...exact, threshold: uncertainty }).length === 0)
    return {
      by: 'threshold',
      sentence: `No window: the threshold of ${volts(threshold)} is known only to ±${volts(uncertainty)}, more than ONE and ZERO leave on one of its sides.`,
    };
  return {
    by: 'strobe',
    sentence: `No window: aperture and jitter take ${seconds(2 * guard)}, longer than any interval that passes.`,
  };
}

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
