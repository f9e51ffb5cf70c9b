import { closedSentence } from './reason-words.ts';
import type { Requirement } from '../design/requirement.ts';
import { detect, valueAt, type DetectorPulse } from '../sense-amplifier/detector.ts';
import { bestStrobe, distanceUnits } from './best-pair.ts';
import { wrongBit } from './bit-error-rate.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { passBand, passIntervals, type StrobeInterval } from './intervals.ts';
import { falseReadings } from './notices.ts';
import { CLOSED_BY, nearestToPassing, whyClosed } from './window-reason.ts';
import type { DetectorPulses, StrobeWindow, WindowAnswer } from './window-result.ts';

/** s between the taps of a strobe delay line. PDP-8/E maintenance manual vol. 1, 1973: taps 10 ns apart. */
export const TAP_SPACING = 10e-9;

/**
 * Strobe window, threshold band, margins, taps and chance of a wrong bit at a strobe and threshold. Pure and quick:
 * page, server and command line all call it when either is moved.
 *
 * @param at time: s from the start of read; undefined: the instant farthest from the edges at this threshold, or
 *   the one that comes nearest to passing where none does. threshold: V at the sense wire.
 */
export function windowAt(
  envelope: StrobeEnvelope,
  at: { readonly time: number | undefined; readonly threshold: number },
  uncertainties: StrobeUncertainties,
): WindowAnswer {
  const { threshold } = at;
  const intervals = passIntervals(envelope, threshold, uncertainties);
  const best = bestStrobe(envelope, threshold, uncertainties, distanceUnits(envelope, uncertainties));
  const time = at.time ?? best?.time ?? nearestToPassing(envelope, threshold, uncertainties);
  const holding = intervals.find((i) => best !== undefined && i.start <= best.time && best.time <= i.end);
  const chosen = holding ?? widestOf(intervals);
  const seen = time - uncertainties.delay;
  const one = valueAt(envelope.time, envelope.one, seen);
  const zero = valueAt(envelope.time, envelope.zero, seen);
  const inForce = threshold + uncertainties.slope * Math.max(0, seen);
  const band = passBand(envelope, time, uncertainties);
  const here = intervals.find((i) => i.start <= time && time <= i.end);
  const taps = findTaps(envelope, intervals, time);
  const closed = intervals.length > 0 ? undefined : whyClosed(envelope, threshold, uncertainties);
  const wrong = wrongBit(envelope, time, threshold, uncertainties);
  return {
    reason: closed && closedSentence(closed),
    closedBy: closed && CLOSED_BY[closed.why],
    strobe: chosen && {
      start: chosen.start,
      end: chosen.end,
      width: chosen.end - chosen.start,
      best: holding && best ? best.time : (chosen.start + chosen.end) / 2,
    },
    intervals,
    threshold:
      band.low <= band.high
        ? { low: band.low, high: band.high, best: (band.low + band.high) / 2 }
        : undefined,
    inForce: { time, threshold },
    margin: marginAt(envelope, { time, threshold }, uncertainties),
    taps,
    tap: chooseTap(taps),
    errorChance: wrong.chance,
    errorChanceRange: wrong.range,
    distance: here && { toStart: time - here.start, toEnd: here.end - time },
    pulses: detectorPulses(envelope, time, threshold, uncertainties),
    notices: falseReadings(envelope, seen, one, zero, inForce),
  };
}

/** What is left on either side of the threshold at one instant, V at the sense wire. Arguments as for `windowAt`. */
export function marginAt(
  envelope: StrobeEnvelope,
  { time, threshold }: { readonly time: number; readonly threshold: number },
  uncertainties: StrobeUncertainties,
): StrobeWindow['margin'] {
  const seen = time - uncertainties.delay;
  const one = valueAt(envelope.time, envelope.one, seen);
  const zero = valueAt(envelope.time, envelope.zero, seen);
  const inForce = threshold + uncertainties.slope * Math.max(0, seen);
  return {
    one: one - inForce,
    zero: inForce - zero,
    total: one - zero,
    left: Math.min(one - inForce, inForce - zero) - uncertainties.threshold,
    ratioDb: ratioInDb(one, zero),
  };
}

/** What a window gives at the strobe in force, as a requirement asks for it: no width where the strobe lies in none. */
export const givenAt = ({ margin, distance }: Pick<StrobeWindow, 'margin' | 'distance'>): Requirement => ({
  margin: margin.left,
  width: distance ? distance.toStart + distance.toEnd : 0,
});

/** Is it enough? Never where the strobe lies in no window. */
export const reaches = (has: Requirement, wanted: Requirement): boolean =>
  has.margin >= wanted.margin && has.width >= wanted.width && has.width > 0;

/** 20 log10(one/zero); infinite when there is nothing to tell the ONE from, minus infinite when there is no ONE. */
export function ratioInDb(one: number, zero: number): number {
  if (one <= 0) return -Infinity;
  return zero <= 0 ? Infinity : 20 * Math.log10(one / zero);
}

function widestOf(intervals: readonly StrobeInterval[]): StrobeInterval | undefined {
  return intervals.reduce<StrobeInterval | undefined>(
    (most, i) => (most === undefined || i.end - i.start > most.end - most.start ? i : most),
    undefined,
  );
}

/** Multiples of 10 ns from 50 ns before the first edge (or the strobe) to 50 ns after the last. */
function findTaps(
  { search }: StrobeEnvelope,
  intervals: readonly StrobeInterval[],
  strobe: number,
): { time: number; pass: boolean }[] {
  const around = 5 * TAP_SPACING;
  const from = Math.max(search.start, Math.min(strobe, ...intervals.map((i) => i.start)) - around);
  const to = Math.min(search.end, Math.max(strobe, ...intervals.map((i) => i.end)) + around);
  const taps: { time: number; pass: boolean }[] = [];
  for (let k = Math.ceil(from / TAP_SPACING - 1e-9); k <= to / TAP_SPACING + 1e-9; k++) {
    const time = k / 1e8;
    taps.push({ time, pass: intervals.some((i) => i.start <= time && time <= i.end) });
  }
  return taps;
}

/**
 * The middle of the longest run of passing taps, the later of two middles, if the run has three taps or more.
 * As reported of the PDP-8/E's field adjustment (maintenance manual vol. 1, 1973).
 */
export function chooseTap(
  taps: readonly { readonly time: number; readonly pass: boolean }[],
): number | undefined {
  let best = { from: 0, length: 0 };
  let from = 0;
  for (let i = 0; i <= taps.length; i++) {
    if (i < taps.length && taps[i].pass) continue;
    if (i - from > best.length) best = { from, length: i - from };
    from = i + 1;
  }
  return best.length >= 3 ? taps[best.from + Math.floor(best.length / 2)].time : undefined;
}

function detectorPulses(
  envelope: StrobeEnvelope,
  strobe: number,
  threshold: number,
  { hysteresis, delay, slope }: StrobeUncertainties,
): DetectorPulses {
  const detector = { threshold, hysteresis, uncertainty: 0, delay, slope, noise: 0 };
  const one = detect(envelope.time, envelope.one, detector).pulses;
  const zero = detect(envelope.time, envelope.zero, detector).pulses;
  const before = zero.filter((p) => p.start <= strobe).at(-1);
  const over = one.find((p: DetectorPulse) => p.start <= strobe && strobe <= p.end);
  return {
    one,
    zero,
    zeroFallen: before && strobe - before.end,
    oneHeld: over && { before: strobe - over.start, after: over.end - strobe },
  };
}
