import { leastSquares } from '../../numerics/levenberg-marquardt.ts';
import type { FitOutcome } from '../../numerics/levenberg-marquardt.ts';
import { cutTrace, thinTrace, traceNoise, valueAt } from './trace-tools.ts';
import type { Trace } from './trace-tools.ts';

/**
 * How a capture lies on a prediction: measured(t) = gain * predicted(t - delay) + offset. `gain` is negative when
 * the probe or the wire is the other way round.
 */
export interface LineFit {
  /** s on the capture's time axis at which the prediction's t = 0 (start of read) lies. */
  readonly delay: number;
  /** Measured over predicted. */
  readonly gain: number;
  /** V. */
  readonly offset: number;
  readonly polarity: 1 | -1;
  /** Correlation coefficient of the two over the capture, -1..1. */
  readonly coefficient: number;
  readonly outcome: FitOutcome;
}

export class LineUpError extends Error {
  override readonly name = 'LineUpError';
  readonly code = 'line-up';
}

/** Most samples refined on. */
const MOST_REFINED = 4000;

/** Refines a place by least squares: delay, offset and, if free, the gain. Throws LineUpError. */
export function refineLine(
  predicted: Trace,
  measured: Trace,
  {
    delay,
    coefficient,
    interval,
    freeGain,
  }: {
    readonly delay: number;
    readonly coefficient: number;
    /** s between the samples that were correlated. */
    readonly interval: number;
    readonly freeGain: boolean;
  },
): LineFit {
  const sign = coefficient < 0 ? -1 : 1;
  const end = predicted.time[predicted.time.length - 1] + delay;
  const shared = thinTrace(cutTrace(measured, -Infinity, end - 2 * interval), MOST_REFINED);
  if (shared.time.length < 8) {
    throw new LineUpError(
      `The capture cannot be lined up: it shares only ${shared.time.length} samples with the prediction where at least 8 are needed; capture the part around a read.`,
    );
  }
  const { gain: startGain, offset: startOffset } = straightLine(predicted, shared, delay, sign, freeGain);
  const noise = traceNoise(measured.value).sigma || 1e-6;
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

/**
 * Gain, offset and correlation coefficient of the straight line measured = gain * predicted + offset at a given delay,
 * over every sample: the prediction stands still before its start and after its end. A gain that is not free is `sign`.
 */
export function straightLine(
  predicted: Trace,
  measured: Trace,
  delay: number,
  sign: 1 | -1,
  free = true,
): { gain: number; offset: number; coefficient: number } {
  const n = measured.time.length;
  const end = predicted.time[predicted.time.length - 1];
  const x = measured.time.map((t) => valueAt(predicted, Math.min(end, t - delay)));
  const mean = (values: Float64Array): number => values.reduce((sum, v) => sum + v, 0) / n;
  const [mx, my] = [mean(x), mean(measured.value)];
  let [sxx, sxy, syy] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [dx, dy] = [x[i] - mx, measured.value[i] - my];
    sxx += dx * dx;
    sxy += dx * dy;
    syy += dy * dy;
  }
  const gain = free && sxx > 0 ? sxy / sxx : sign;
  return { gain, offset: my - gain * mx, coefficient: sxx > 0 && syy > 0 ? sxy / Math.sqrt(sxx * syy) : 0 };
}
