import { incompleteBeta, upperGamma } from './special.ts';

/** Distributions, quantiles and intervals. Probabilities and confidences are fractions, 0 to 1. */

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Arithmetic mean; NaN of nothing. */
export function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  return sum / values.length;
}

/** Sample standard deviation (divisor n - 1); NaN under two values. */
export function standardDeviation(values: ArrayLike<number>): number {
  const centre = mean(values);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += (values[i] - centre) ** 2;
  return values.length < 2 ? NaN : Math.sqrt(sum / (values.length - 1));
}

/** Quantile by linear interpolation between order statistics, rank p (n - 1); NaN of nothing. */
export function quantile(values: ArrayLike<number>, p: number): number {
  if (values.length === 0) return NaN;
  const sorted = Float64Array.from(values).sort();
  const rank = Math.min(1, Math.max(0, p)) * (sorted.length - 1);
  const below = Math.floor(rank);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (rank - below) * (sorted[above] - sorted[below]);
}

export const median = (values: ArrayLike<number>): number => quantile(values, 0.5);

/** Chance that a standard normal deviate lies above z. */
export function normalUpper(z: number): number {
  const tail = upperGamma(0.5, (z * z) / 2) / 2;
  return z < 0 ? 1 - tail : tail;
}

/** z that a standard normal deviate stays below with chance p; infinite at 0 and 1. */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) return p === 0 ? -Infinity : p === 1 ? Infinity : NaN;
  if (p > 0.5) return -normalQuantile(1 - p);
  return -invertTail(normalUpper, p);
}

/** Chance that chi-square with `degrees` degrees of freedom exceeds `value`. */
export const chiSquareUpper = (value: number, degrees: number): number => upperGamma(degrees / 2, value / 2);

/** Chance that Student's t with `degrees` degrees of freedom lies above t. */
export function studentUpper(t: number, degrees: number): number {
  if (degrees === Infinity) return normalUpper(t);
  const tail = incompleteBeta(degrees / 2, 0.5, degrees / (degrees + t * t)) / 2;
  return t < 0 ? 1 - tail : tail;
}

/** t that Student's t with `degrees` (> 0) degrees of freedom stays below with chance p. */
export function studentQuantile(p: number, degrees: number): number {
  if (!(degrees > 0)) return NaN;
  if (!(p > 0 && p < 1)) return p === 0 ? -Infinity : p === 1 ? Infinity : NaN;
  if (p > 0.5) return -studentQuantile(1 - p, degrees);
  return -invertTail((t) => studentUpper(t, degrees), p);
}

/**
 * Wilson's score interval of a proportion (Wilson, J. Amer. Stat. Assoc. 22, 1927): stays inside 0..1 and is
 * not empty at 0 or all successes. No trials: everything is possible.
 */
export function wilsonInterval(successes: number, trials: number, confidence = 0.95): Interval {
  if (trials === 0) return { low: 0, high: 1 };
  const z = normalQuantile((1 + confidence) / 2);
  const p = successes / trials;
  const centre = p + (z * z) / (2 * trials);
  const half = z * Math.sqrt((p * (1 - p)) / trials + (z * z) / (4 * trials * trials));
  const scale = 1 + (z * z) / trials;
  return {
    low: successes === 0 ? 0 : Math.max(0, (centre - half) / scale),
    high: successes === trials ? 1 : Math.min(1, (centre + half) / scale),
  };
}

/** Non-negative argument at which a falling tail equals p <= 1/2: bracket by doubling, then bisect to rounding. */
function invertTail(tail: (value: number) => number, p: number): number {
  let low = 0;
  let high = 1;
  while (tail(high) > p && high < 1e300) {
    low = high;
    high *= 2;
  }
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (tail(middle) > p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Least value, of a list too long for Math.min. */
export const leastOf = (values: readonly number[]): number =>
  values.reduce((a, b) => Math.min(a, b), Infinity);
