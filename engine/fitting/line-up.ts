import { bestLag } from '../numerics/cross-correlation.ts';
import { leastSquares } from '../numerics/levenberg-marquardt.ts';
import type { FitOutcome } from '../numerics/levenberg-marquardt.ts';
import { cutTrace, resampleTrace, thinTrace, traceNoise, valueAt } from './trace-tools.ts';
import type { Trace } from './trace-tools.ts';

/**
 * How a capture lies on a prediction: measured(t) = gain * predicted(t - delay) + offset. `gain` is negative when
 * the probe or the wire is the other way round.
 */
export interface LineUp {
  /** s on the capture's time axis at which the prediction's t = 0 (start of read) lies. */
  readonly delay: number;
  /** Measured over predicted. */
  readonly gain: number;
  /** V. */
  readonly offset: number;
  readonly polarity: 1 | -1;
  /** Correlation coefficient of the two over what they share, -1..1. */
  readonly coefficient: number;
  readonly outcome: FitOutcome;
}

export interface LineUpOptions {
  /** Refine the gain too (default true); false keeps it at plus or minus 1. */
  readonly gain?: boolean;
  /** Admit a reversed polarity (default true). */
  readonly reversed?: boolean;
  /** Share of the shorter trace that must overlap (default 0.5). */
  readonly overlap?: number;
}

export class LineUpError extends Error {
  override readonly name = 'LineUpError';
  readonly code = 'line-up';
}

/** Longest record correlated, and most samples refined on. */
const MOST_POINTS = 32_768;
const MOST_REFINED = 4000;

/**
 * Lines a capture up with a prediction: cross-correlation over every delay, then refinement of delay, gain and
 * offset by least squares. The prediction stands still at its first value before its start. Throws LineUpError.
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
  const padded = new Float64Array(lead + moving.length).fill(moving[0]);
  padded.set(moving, lead);
  const match = bestLag(fixed, padded, {
    reversed: options.reversed ?? true,
    overlap: options.overlap ?? 0.5,
  });
  if (match === undefined) {
    throw new LineUpError(
      'The capture cannot be lined up: one of the two traces is flat where they overlap; capture the part around a read and check the probe.',
    );
  }
  const delay = measured.time[0] + (match.lag + lead) * interval - predicted.time[0];
  return refine(predicted, measured, delay, match.coefficient, interval, options);
}

function refine(
  predicted: Trace,
  measured: Trace,
  delay: number,
  coefficient: number,
  interval: number,
  options: LineUpOptions,
): LineUp {
  const sign = coefficient < 0 ? -1 : 1;
  const end = predicted.time[predicted.time.length - 1] + delay;
  const shared = thinTrace(cutTrace(measured, -Infinity, end - 2 * interval), MOST_REFINED);
  if (shared.time.length < 8) {
    throw new LineUpError(
      `The capture cannot be lined up: it shares only ${shared.time.length} samples with the prediction where at least 8 are needed; capture the part around a read.`,
    );
  }
  const { gain: startGain, offset: startOffset } = straightLine(
    predicted,
    shared,
    delay,
    sign,
    options.gain !== false,
  );
  const noise = traceNoise(measured.value).sigma || 1e-6;
  const freeGain = options.gain !== false;
  const residuals = (p: Float64Array): Float64Array =>
    Float64Array.from(shared.time, (t, i) => {
      const model = valueAt(predicted, Math.min(t - delay - p[0], predicted.time[predicted.time.length - 1]));
      return ((freeGain ? p[2] : startGain) * model + p[1] - shared.value[i]) / noise;
    });
  const range = 20 * interval;
  const fit = leastSquares(
    {
      residuals,
      start: freeGain ? [0, startOffset, startGain] : [0, startOffset],
      scale: freeGain ? [interval, noise, Math.abs(startGain) || 1] : [interval, noise],
      lower: [-range, -Infinity, -Infinity],
      upper: [range, Infinity, Infinity],
    },
    { maxIterations: 60, tolerance: 1e-5, differenceStep: 1e-2 },
  );
  const gain = freeGain ? fit.parameters[2] : startGain;
  return {
    delay: delay + fit.parameters[0],
    gain,
    offset: fit.parameters[1],
    polarity: gain < 0 ? -1 : 1,
    coefficient,
    outcome: fit.outcome,
  };
}

/** Gain and offset of the straight line measured = gain * predicted + offset at a given delay. */
export function straightLine(
  predicted: Trace,
  measured: Trace,
  delay: number,
  sign: 1 | -1,
  free = true,
): { gain: number; offset: number } {
  let [n, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  measured.time.forEach((t, i) => {
    const x = valueAt(predicted, t - delay);
    if (Number.isNaN(x)) return;
    const y = measured.value[i];
    n++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  });
  const spread = sxx - (sx * sx) / n;
  const gain = free && spread > 0 ? (sxy - (sx * sy) / n) / spread : sign;
  return { gain, offset: (sy - gain * sx) / n };
}
