import { formatQuantity } from '../../base/format-quantity.ts';
import { fitPolynomial } from '../../numerics/polynomial-fit.ts';
import { cutTrace } from '../align/trace-tools.ts';
import type { Trace } from '../align/trace-tools.ts';

/** A value read off a noisy capture and its standard error, SI. */
export interface Measured {
  readonly value: number;
  readonly error: number;
}

/** What the bench reads off the answer of one core to a read (magnitudes; times from the start of the rise). */
export interface MeasuredOne {
  /** uV1, V. */
  readonly peakOne: Measured;
  /** t_p, s. */
  readonly peakTime: Measured;
  /** t_s, s: to a tenth of the peak on the fall. */
  readonly switchTime: Measured;
}

/** The drive's edge on the capture's time axis, s. */
export interface DriveEdge {
  readonly start: number;
  readonly rise: number;
}

/** A capture off which a core cannot be read: one sentence. */
export class MeasureError extends Error {
  override readonly name = 'MeasureError';
  readonly code = 'measure-core';
}

/** The peak is read where the bell is above this share of itself, the fall between these. */
const TOP = 0.7;
const FALL = [0.04, 0.22] as const;

/**
 * Reads peak, peak time and switching time of a ONE: the level before the edge is the zero; the top of the bell is
 * a polynomial of degree four, the fall one of degree two, so that noise is averaged and not picked. The capture
 * must begin before the edge and last until the answer has died away. Throws MeasureError.
 */
export function measureOne(capture: Trace, edge: DriveEdge): MeasuredOne {
  const { level, sign } = zeroOf(capture, edge);
  const bell = cutTrace(capture, edge.start + edge.rise, Infinity);
  const value = bell.value.map((v) => sign * (v - level));
  const rough = smooth(value);
  const top = rough.reduce((best, v, i) => (v > rough[best] ? i : best), 0);
  let [from, to] = [top, top];
  while (from > 0 && rough[from - 1] > TOP * rough[top]) from--;
  while (to < value.length - 1 && rough[to + 1] > TOP * rough[top]) to++;
  if (to - from < 8 || to === value.length - 1) {
    throw new MeasureError(
      `The top of the bell must have at least 9 samples and a fall after it; it has ${to - from + 1}: capture the whole answer with a shorter sample interval.`,
    );
  }
  const crown = fitPolynomial(bell.time.slice(from, to + 1), value.slice(from, to + 1), 4);
  const peakAt = root(crown.slopeAt, bell.time[from], bell.time[to]);
  const peak = crown.valueAt(peakAt);

  let [first, last] = [to, to];
  while (first < value.length && rough[first] > FALL[1] * peak) first++;
  last = first;
  while (last < value.length && rough[last] > FALL[0] * peak) last++;
  if (last >= value.length || last - first < 6) {
    throw new MeasureError(
      'The fall of the bell must be seen down to a twenty-fifth of the peak with at least 6 samples below a fifth; lengthen the read or the capture, or sample more densely.',
    );
  }
  const fall = fitPolynomial(bell.time.slice(first, last), value.slice(first, last), 2);
  const tenth = root((t) => fall.valueAt(t) - peak / 10, bell.time[first], bell.time[last - 1]);
  return {
    peakOne: { value: peak, error: crown.valueError(peakAt) },
    peakTime: {
      value: peakAt - edge.start,
      error: crown.slopeError(peakAt) / Math.abs(crown.curvatureAt(peakAt)),
    },
    switchTime: { value: tenth - edge.start, error: fall.valueError(tenth) / Math.abs(fall.slopeAt(tenth)) },
  };
}

/** Reads what the edge itself induces, V, at the end of the rise (dVz of a disturbed ZERO, or a half-select output). */
export function measureEdge(capture: Trace, edge: DriveEdge): Measured {
  // Which way it goes is told by the rise alone: a capture that holds the end of the pulse too has as much of either sign.
  const { level, sign } = zeroOf(capture, edge, edge.start + edge.rise);
  // Only the end of the rise: where the drive passes the slow loop's knee the answer of a ZERO has a kink of its own.
  const part = cutTrace(capture, edge.start + 0.85 * edge.rise, edge.start + 0.995 * edge.rise);
  if (part.time.length < 5) {
    throw new MeasureError(
      `The last seventh of the rise must have at least 5 samples; it has ${part.time.length}: sample more densely.`,
    );
  }
  const line = fitPolynomial(
    part.time,
    part.value.map((v) => sign * (v - level)),
    part.time.length >= 7 ? 3 : 2,
  );
  const end = edge.start + edge.rise;
  return { value: line.valueAt(end), error: line.valueError(end) };
}

/** Level before the edge, and which way the answer goes until a time. */
function zeroOf(capture: Trace, edge: DriveEdge, until = Infinity): { level: number; sign: 1 | -1 } {
  // A sample at the edge itself may already carry the step that the edge induces.
  const interval = (capture.time[capture.time.length - 1] - capture.time[0]) / (capture.time.length - 1);
  const before = cutTrace(capture, -Infinity, edge.start - interval / 2);
  if (before.time.length < 5) {
    throw new MeasureError(
      `The capture must have at least 5 samples before the drive's edge at ${formatQuantity(edge.start, 's')}; it has ${before.time.length}: begin it earlier.`,
    );
  }
  const level = before.value.reduce((s, v) => s + v, 0) / before.value.length;
  const after = cutTrace(capture, edge.start, until).value;
  const area = after.reduce((s, v) => s + (v - level), 0);
  return { level, sign: area < 0 ? -1 : 1 };
}

/** Mean of a few neighbours: good enough to find where things are, not what they are. */
function smooth(value: Float64Array): Float64Array {
  const reach = Math.max(1, Math.round(value.length / 150));
  return value.map((_, i) => {
    const part = value.subarray(Math.max(0, i - reach), i + reach + 1);
    return part.reduce((s, v) => s + v, 0) / part.length;
  });
}

/** Where a falling function passes zero between two places, by bisection. */
function root(f: (t: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
