import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { passIntervals } from './intervals.ts';
import type { BestPair } from './window-result.ts';

/**
 * Sizes of one unit of distance: the stated uncertainty of the threshold, V, and of the strobe, s. Where one is
 * stated as nothing, a hundredth of the greatest ONE or one sample stands in, so that a best pair always exists.
 */
export interface DistanceUnits {
  readonly voltage: number;
  readonly time: number;
}

export function distanceUnits(envelope: StrobeEnvelope, uncertainties: StrobeUncertainties): DistanceUnits {
  const { time, one } = envelope;
  const step = (time[time.length - 1] - time[0]) / (time.length - 1);
  const greatest = one.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return {
    voltage: uncertainties.threshold > 0 ? uncertainties.threshold : Math.max(greatest / 100, 1e-12),
    time: uncertainties.guard > 0 ? uncertainties.guard : step,
  };
}

/** Halvings of a distance or of a bracket: the last one is below 1e-7 of the first. */
const HALVINGS = 26;

/**
 * For a given threshold, the strobe farthest from the edge of the opening: the largest box of `distance` units
 * either way that lies in the region where the least ONE is above and the greatest ZERO below. Undefined where
 * that region has no width. A distance of at least 1 means that the stated uncertainties fit.
 */
export function bestStrobe(
  envelope: StrobeEnvelope,
  threshold: number,
  { delay, slope }: StrobeUncertainties,
  units: DistanceUnits,
  atLeast = 0,
): BestPair | undefined {
  const fit = (k: number): { start: number; end: number } | undefined => {
    const box = { threshold: k * units.voltage, guard: k * units.time, delay, slope };
    return passIntervals(envelope, threshold, box).reduce<{ start: number; end: number } | undefined>(
      (widest, i) => (widest === undefined || i.end - i.start > widest.end - widest.start ? i : widest),
      undefined,
    );
  };
  let low = atLeast;
  let found = fit(low);
  if (found === undefined) return undefined;
  let high = Math.max(1, 2 * low);
  for (let next = fit(high); next !== undefined && high < 1e9; next = fit(high)) {
    found = next;
    low = high;
    high *= 2;
  }
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    const next = fit(middle);
    if (next === undefined) high = middle;
    else {
      found = next;
      low = middle;
    }
  }
  return { time: (found.start + found.end) / 2, threshold, distance: low };
}

/**
 * The pair of strobe and threshold farthest from the edge of the opening. Starts from the middles of the opening
 * at up to 64 instants and refines the best by golden section over the threshold.
 */
export function findBestPair(
  envelope: StrobeEnvelope,
  uncertainties: StrobeUncertainties,
): BestPair | undefined {
  const units = distanceUnits(envelope, uncertainties);
  const middles = openMiddles(envelope, uncertainties);
  let best: BestPair | undefined;
  for (const threshold of middles)
    best = bestStrobe(envelope, threshold, uncertainties, units, best?.distance) ?? best;
  if (best === undefined) return undefined;
  const reach = Math.max(units.voltage * (1 + best.distance), spacing(middles));
  const ratio = (Math.sqrt(5) - 1) / 2;
  let from = best.threshold - reach;
  let to = best.threshold + reach;
  const distance = (threshold: number): number => {
    const pair = bestStrobe(envelope, threshold, uncertainties, units);
    if (pair !== undefined && pair.distance > best!.distance) best = pair;
    return pair?.distance ?? -1;
  };
  let a = to - ratio * (to - from);
  let b = from + ratio * (to - from);
  let atA = distance(a);
  let atB = distance(b);
  for (let i = 0; i < HALVINGS; i++) {
    if (atA > atB || (atA === atB && a > best.threshold)) {
      to = b;
      b = a;
      atB = atA;
      a = to - ratio * (to - from);
      atA = distance(a);
    } else {
      from = a;
      a = b;
      atA = atB;
      b = from + ratio * (to - from);
      atB = distance(b);
    }
  }
  return best;
}

function openMiddles(envelope: StrobeEnvelope, { delay, slope }: StrobeUncertainties): number[] {
  const { time, one, zero, search } = envelope;
  const middles: { margin: number; value: number }[] = [];
  const nothing = 1e-4 * one.reduce((most, value) => Math.max(most, value), 0);
  for (let i = 0; i < time.length; i++) {
    const strobe = time[i] + delay;
    if (strobe < search.start || strobe > search.end || one[i] - zero[i] <= nothing) continue;
    middles.push({
      margin: one[i] - zero[i],
      value: (one[i] + zero[i]) / 2 - slope * Math.max(0, time[i]),
    });
  }
  if (middles.length === 0) return [];
  const widest = middles.reduce((most, m) => (m.margin > most.margin ? m : most));
  const stride = Math.ceil(middles.length / 64);
  return [widest.value, ...middles.filter((_, i) => i % stride === 0).map((m) => m.value)];
}

function spacing(values: readonly number[]): number {
  return values.length < 2 ? 0 : (Math.max(...values) - Math.min(...values)) / (values.length - 1);
}
