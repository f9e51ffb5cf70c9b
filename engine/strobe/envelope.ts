import { longestPulse } from '../drive/pulse-widths.ts';
import type { Design } from '../design/design.ts';
import { halfTime } from '../drive/edge.ts';
import { measuredPulse } from '../drive/measured-pulse.ts';
import { pulseInstants } from '../drive/programme.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { CornerWindow } from './window-result.ts';

/** One run of the ensemble: the amplifier's output referred to the sense wire, V, at the envelope's times. */
export interface CaseTrace {
  readonly name: string;
  readonly bit: 0 | 1;
  readonly referred: Float64Array;
}

/**
 * Bands of all ONEs and all ZEROs. Between samples every trace is a straight line; the least of straight lines
 * lies on or above the line drawn here and the greatest on or below, so that the envelope is on the safe side.
 */
export interface StrobeEnvelope {
  /** s from the start of read, uniform: time of the signal, before the detector's delay. */
  readonly time: Float64Array;
  /** Least ONE, greatest ZERO, V. */
  readonly one: Float64Array;
  readonly zero: Float64Array;
  /** Greatest ONE, least ZERO, V. */
  readonly oneHigh: Float64Array;
  readonly zeroLow: Float64Array;
  /** Index of the case that sets `one` and `zero` at each sample, and the cases' names, where they are known. */
  readonly sets?: {
    readonly one: Int32Array;
    readonly zero: Int32Array;
    readonly names: readonly string[];
  };
  /** Where a strobe may lie, s: from the start of read until it starts to fall. */
  readonly search: { readonly start: number; readonly end: number };
}

/** @throws RangeError when there is no ONE or no ZERO, or a trace is not as long as `time`. */
export function buildEnvelope(
  time: Float64Array,
  cases: readonly CaseTrace[],
  search: StrobeEnvelope['search'],
): StrobeEnvelope {
  if (!cases.some((c) => c.bit === 1) || !cases.some((c) => c.bit === 0))
    throw new RangeError('An envelope needs at least one ONE and one ZERO.');
  const n = time.length;
  const one = new Float64Array(n).fill(Infinity);
  const zero = new Float64Array(n).fill(-Infinity);
  const oneHigh = new Float64Array(n).fill(-Infinity);
  const zeroLow = new Float64Array(n).fill(Infinity);
  const oneCase = new Int32Array(n);
  const zeroCase = new Int32Array(n);
  cases.forEach(({ bit, referred, name }, index) => {
    if (referred.length !== n)
      throw new RangeError(`Case ${name} has ${referred.length} samples where ${n} are due.`);
    for (let i = 0; i < n; i++) {
      const value = referred[i];
      if (bit === 1) {
        if (value < one[i]) {
          one[i] = value;
          oneCase[i] = index;
        }
        if (value > oneHigh[i]) oneHigh[i] = value;
      } else {
        if (value > zero[i]) {
          zero[i] = value;
          zeroCase[i] = index;
        }
        if (value < zeroLow[i]) zeroLow[i] = value;
      }
    }
  });
  return {
    time,
    one,
    zero,
    oneHigh,
    zeroLow,
    sets: { one: oneCase, zero: zeroCase, names: cases.map((c) => c.name) },
    search: clip(search, time),
  };
}

/**
 * The envelope of a finished StrobeWindow, for moving its strobe or threshold (its arrays may come from JSON). The
 * window's own is what the latch sees, one detector delay late; this one is the signal's again.
 */
export function envelopeOf(
  { time, one, zero, oneHigh, zeroLow }: Record<Band, ArrayLike<number>>,
  design: Design,
): StrobeEnvelope {
  const { delay } = design.detector;
  const times = Float64Array.from(time, (t) => t - delay);
  const { start, end } = strobeSearch(design);
  return {
    time: times,
    one: Float64Array.from(one),
    zero: Float64Array.from(zero),
    oneHigh: Float64Array.from(oneHigh),
    zeroLow: Float64Array.from(zeroLow),
    search: { start: Math.max(start, time[0]), end: Math.min(end, time[time.length - 1]) },
  };
}

/** The envelope as the latch sees it: the signal one detector delay earlier, at the same instants. */
export function seenEnvelope(
  { time, one, zero, oneHigh, zeroLow }: StrobeEnvelope,
  delay: number,
): Readonly<Record<Band, Float64Array>> {
  const late = (values: Float64Array): Float64Array => asLatchSees(time, values, delay);
  return { time, one: late(one), zero: late(zero), oneHigh: late(oneHigh), zeroLow: late(zeroLow) };
}

/** Indices of the cases that set the least ONE and the greatest ZERO at a signal time. */
export function definingCases({ time, sets }: StrobeEnvelope, t: number): { one: number; zero: number } {
  const i = nearestSample(time, t);
  return { one: sets!.one[i]!, zero: sets!.zero[i]! };
}

/** Their names. */
export function namesAt(envelope: StrobeEnvelope, t: number): { one: string; zero: string } {
  const { names } = envelope.sets!;
  const { one, zero } = definingCases(envelope, t);
  return { one: names[one]!, zero: names[zero]! };
}

const seen = new WeakMap<
  StrobeEnvelope,
  { readonly delay: number; readonly sets: CornerWindow['envelope'] }
>();

/**
 * Least ONE and greatest ZERO as the latch sees them at each strobe time, and the case that sets each. The same
 * arrays whenever it is asked of one envelope: a strobe that is dragged moves none of them.
 */
export function seenSets(envelope: StrobeEnvelope, delay: number): CornerWindow['envelope'] {
  const known = seen.get(envelope);
  if (known?.delay === delay) return known.sets;
  const { time, one, zero, sets } = envelope;
  const late = (cases: Int32Array): Int32Array =>
    Int32Array.from(time, (t) => cases[nearestSample(time, t - delay)]!);
  const made = {
    time,
    one: asLatchSees(time, one, delay),
    zero: asLatchSees(time, zero, delay),
    oneCase: late(sets!.one),
    zeroCase: late(sets!.zero),
  };
  seen.set(envelope, { delay, sets: made });
  return made;
}

/** Index of the sample of a uniform axis that is nearest to t, held within it. */
export function nearestSample(time: Float64Array, t: number): number {
  const last = time.length - 1;
  const i = Math.round(((t - time[0]) / (time[last] - time[0])) * last);
  return Math.max(0, Math.min(last, i));
}

/** A trace as the latch sees it: at every instant what the detector heard `delay` (s) before. */
export const asLatchSees = (time: Float64Array, values: Float64Array, delay: number): Float64Array =>
  time.map((t) => valueAt(time, values, t - delay));

type Band = 'time' | 'one' | 'zero' | 'oneHigh' | 'zeroLow';

function clip(search: StrobeEnvelope['search'], time: Float64Array): StrobeEnvelope['search'] {
  return { start: Math.max(search.start, time[0]), end: Math.min(search.end, time[time.length - 1]) };
}

/**
 * Where a strobe may lie, s: within the read pulse, until the first line starts to fall. Later the fall's own coupling
 * can stand where a signal is due and score without a core having answered.
 */
export function strobeSearch(design: Design): StrobeEnvelope['search'] {
  const at = pulseInstants(design);
  const ends = (['x', 'y'] as const).map((name) => {
    const { read, edge, fall } = design.drive[name];
    const half = read === undefined ? halfTime(edge, fall) : measuredPulse(read).fall / 2;
    return at[name].readOff - half;
  });
  return { start: 0, end: Math.min(...ends) };
}

/** s to which a run must be followed for every strobe up to the write, and the design's own, to be judged. */
export function followedUntil(design: Design): number {
  const { cycle, detector, strobe } = design;
  return (
    Math.max(longestPulse(design, 'read') + cycle.gap, (strobe.time ?? 0) + strobe.aperture) + detector.delay
  );
}

/** A Gaussian jitter is taken as plus or minus this many standard deviations: 99.7 % of strobes. */
export const JITTER_SIGMAS = 3;

/** What is not known when a strobe is placed. */
export interface StrobeUncertainties {
  /** V, plus or minus: detector uncertainty and half its hysteresis. */
  readonly threshold: number;
  /** s, plus or minus: half the aperture and three sigma of jitter. */
  readonly guard: number;
  /** s, the strobe sees the signal this much earlier. */
  readonly delay: number;
  /** V/s added to the threshold from the start of read. */
  readonly slope: number;
  /** V peak to peak. */
  readonly hysteresis: number;
  /** s, full. */
  readonly aperture: number;
  /** s rms. */
  readonly jitter: number;
  /** V rms. */
  readonly noise: number;
}

export function strobeUncertainties({ detector, strobe }: Design): StrobeUncertainties {
  return {
    threshold: detector.uncertainty + detector.hysteresis / 2,
    guard: strobe.aperture / 2 + JITTER_SIGMAS * strobe.jitter,
    delay: detector.delay,
    slope: detector.slope,
    hysteresis: detector.hysteresis,
    aperture: strobe.aperture,
    jitter: strobe.jitter,
    noise: detector.noise,
  };
}

/**
 * The same at the corners: threshold and strobe two standard deviations of their tolerances farther out (95 % of parts).
 * They are uncertainties of where these are, not runs.
 */
export function cornerUncertainties(design: Design): StrobeUncertainties {
  const stated = strobeUncertainties(design);
  const { threshold, strobe } = design.tolerances;
  return {
    ...stated,
    threshold: stated.threshold + CORNER_SIGMAS * threshold * Math.abs(design.detector.threshold),
    guard: stated.guard + CORNER_SIGMAS * strobe,
  };
}

/** Corners lie this many standard deviations of a tolerance out: 95 % of parts. */
export const CORNER_SIGMAS = 2;
