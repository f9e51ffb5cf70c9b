import type { Design } from '../../design/design.ts';
import { bestLags } from '../../numerics/cross-correlation.ts';
import { LineUpError, refineLine, straightLine, type LineFit } from './refine-line-up.ts';
import { resampleTrace, thinTrace, type Trace } from './trace-tools.ts';

export interface LineUp extends LineFit {
  /** Another place where the capture lies about as well, if any: then it must be told which is meant. */
  readonly rival: { readonly delay: number; readonly polarity: 1 | -1 } | undefined;
}

/** What is known of a capture before it is lined up. */
export interface Placing {
  /**
   * 'read' (default): it holds the read, or a good part of it; 'any': any part of the cycle. A write answers with a
   * bell as a read does, upside down and often larger, so that polarity and place cannot both be left open.
   */
  readonly part?: 'read' | 'any';
  /** 'either' (default): found; else the probe is known to lie so. */
  readonly polarity?: 'either' | 'as-predicted' | 'reversed';
  /** 'fixed' (default): the probe's gain is known; 'free': it is found. */
  readonly probeGain?: 'fixed' | 'free';
}

export interface LineUpOptions extends Placing {
  /** s on the prediction's axis from the start of read to where the write may begin; undefined: any part will do. */
  readonly read?: { readonly from: number; readonly to: number };
  /** Share of the shorter trace that must overlap (default 0.5). */
  readonly overlap?: number;
}

/** Longest record correlated, and most samples that judge a place. */
const MOST_POINTS = 32_768;
const MOST_JUDGED = 2000;
/** Share of the read (or of the capture, if that is shorter) that a capture of the read must hold. */
const HOLDS = 0.25;
/** A place this nearly as good as the chosen one is its rival. */
const ABOUT_AS_GOOD = 0.97;
/** One that does not hold the read, though the capture should, counts for this share of itself. */
const CLEARLY_BETTER = 0.9;

/** The part of the cycle that belongs to the read: up to where the write's currents begin. */
export const readOf = ({ cycle, drive }: Design): { from: number; to: number } => ({
  from: 0,
  to: cycle.readWidth + cycle.gap - Math.max(0, drive.inhibit.lead),
});

/**
 * Lines a capture up with a prediction: cross-correlation over every delay, the place chosen among its maxima, then
 * refinement of delay, gain and offset by least squares. The prediction stands still at its first value before its
 * start. Throws LineUpError.
 */
export function lineUp(predicted: Trace, measured: Trace, options: LineUpOptions = {}): LineUp {
  const span = (t: Trace): number => t.time[t.time.length - 1] - t.time[0];
  const interval = Math.max(
    Math.min(span(predicted) / predicted.time.length, span(measured) / measured.time.length),
    (span(predicted) + span(measured)) / MOST_POINTS,
  );
  const fixed = resampleTrace(measured, interval);
  const moving = resampleTrace(predicted, interval);
  // The prediction is quiet before its read: what an instrument records before that must find a counterpart.
  const lead = Math.min(fixed.length, moving.length);
  const turned = options.polarity === 'reversed' ? -1 : 1;
  const padded = new Float64Array(lead + moving.length).fill(turned * moving[0]);
  padded.set(
    moving.map((v) => turned * v),
    lead,
  );
  const matches = bestLags(fixed, padded, {
    reversed: (options.polarity ?? 'either') === 'either',
    overlap: options.overlap ?? 0.5,
  });
  const places = matches.map(({ lag }) =>
    placeAt(predicted, measured, measured.time[0] + (lag + lead) * interval - predicted.time[0], options),
  );
  if (places.length === 0) {
    throw new LineUpError(
      'The capture cannot be lined up: one of the two traces is flat where they overlap; capture the part around a read and check the probe.',
    );
  }
  const best = (some: readonly Place[]): Place =>
    some.reduce((found, place) => (place.worth > found.worth ? place : found));
  const reads = places.filter((place) => place.holdsRead);
  const likely = reads.length > 0 && (options.part ?? 'read') === 'read' ? reads : places;
  const chosen = best(likely);
  const others = places.filter(
    (place) =>
      place !== chosen &&
      place.worth * (likely.includes(place) ? 1 : CLEARLY_BETTER) >= ABOUT_AS_GOOD * chosen.worth,
  );
  const { delay, coefficient } = chosen;
  return {
    ...refineLine(predicted, measured, {
      delay,
      coefficient,
      interval,
      freeGain: options.probeGain === 'free',
    }),
    rival: others.length === 0 ? undefined : rivalOf(best(others)),
  };
}

/** One maximum of the correlation. */
interface Place {
  readonly delay: number;
  readonly coefficient: number;
  readonly holdsRead: boolean;
  /** Orders the places, 0..1. */
  readonly worth: number;
}

/**
 * Judges a place by the correlation over the whole capture and, softly, by its size: with a known probe a bell of
 * another height is another bell, but the design may be some way off, so that a factor of 1.2 counts for no more
 * than 5 %.
 */
function placeAt(
  predicted: Trace,
  measured: Trace,
  delay: number,
  { read, probeGain }: LineUpOptions,
): Place {
  const end = measured.time[measured.time.length - 1];
  const shared = read && Math.min(end - delay, read.to) - Math.max(measured.time[0] - delay, read.from);
  const whole = read && Math.min(end - measured.time[0], read.to - read.from);
  const { gain, coefficient } = straightLine(predicted, thinTrace(measured, MOST_JUDGED), delay, 1);
  const size = probeGain === 'free' ? 1 : Math.min(Math.abs(gain), 1 / Math.abs(gain)) ** 0.25;
  return {
    delay,
    coefficient,
    holdsRead: shared === undefined || whole === undefined || shared >= HOLDS * whole,
    worth: Math.abs(coefficient) * size,
  };
}

const rivalOf = ({ delay, coefficient }: Place): LineUp['rival'] => ({
  delay,
  polarity: coefficient < 0 ? -1 : 1,
});
