import { chiSquareUpper, mean, normalQuantile, standardDeviation } from './statistics.ts';

/**
 * Of n values the least leaves at most a share 1 - content of all that may come below it, with the confidence told:
 * content^n = 1 - confidence, whatever the distribution (S. S. Wilks, Determination of sample sizes for setting
 * tolerance limits, Annals of Mathematical Statistics 12, 1941).
 * @returns content, 0..1
 */
export const contentOfExtreme = (count: number, confidence = 0.95): number => (1 - confidence) ** (1 / count);

/**
 * Factor k of a one-sided tolerance limit of a normal distribution: mean - k sd (or mean + k sd) has a share `content`
 * beyond it, with `confidence`. Natrella's formula, as in the NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3.
 * @returns Infinity where the sample is too small for the formula
 */
export function normalToleranceFactor(count: number, content: number, confidence = 0.95): number {
  const [p, g] = [normalQuantile(content), normalQuantile(confidence)];
  const a = 1 - (g * g) / (2 * (count - 1));
  const b = p * p - (g * g) / count;
  return a > 0 && count > 2 ? (p + Math.sqrt(p * p - a * b)) / a : Infinity;
}

/**
 * Chance that a normal sample is as skewed and as heavy in its tails as these values, or more: the test of Jarque and
 * Bera (Economics Letters 6, 1980), good from some tens of values on.
 */
export function chanceIfNormal(values: ArrayLike<number>): number {
  const n = values.length;
  const [centre, sd] = [mean(values), standardDeviation(values)];
  if (!(sd > 0)) return 0;
  let [third, fourth] = [0, 0];
  for (let i = 0; i < n; i++) {
    const z = (values[i] - centre) / sd;
    third += z ** 3 / n;
    fourth += z ** 4 / n;
  }
  return chiSquareUpper((n / 6) * (third ** 2 + (fourth - 3) ** 2 / 4), 2);
}
