import { afterSeeing, type Gaussian } from '../numerics/gaussian.ts';
import type { Knowledge } from './knowledge.ts';
import { together, type ShownCapture } from './seen-captures.ts';

/**
 * What is known with the captures counted: all that is open, together, as the captures show it. They count for no more than
 * the fit makes of them, which has looked closer: where it tells its values less well, errors are taken to be greater. So
 * nothing that a fit left open is added twice, and captures never leave more open than there was before.
 */
export function knownAfter(before: Gaussian, seen: readonly ShownCapture[], known: Knowledge): Gaussian {
  if (seen.length === 0) return before;
  const { slopes, errors } = together(seen, before.mean.length);
  const told = known.values.flatMap(({ deviation }, i) => (deviation > 0 && deviation < Infinity ? [i] : []));
  const weakened = (by: number): Gaussian => afterSeeing(before, slopes, errors.clone().mul(by));
  return weakened(leastOf((by) => deviationOf(weakened(by), told) >= 1));
}

/** Of the values that a fit tells, in the deviations that it tells: their geometric mean. */
function deviationOf({ covariance }: Gaussian, told: readonly number[]): number {
  if (told.length === 0) return Infinity;
  const logarithms = told.map((i) => Math.log(covariance.get(i, i)) / 2);
  return Math.exp(logarithms.reduce((a, b) => a + b, 0) / told.length);
}

/** By how much errors are taken greater at most, and halvings of its logarithm. */
const WEAKEST = 1e6;
const HALVINGS = 12;

/** The least factor from 1 on that is enough, or the greatest where none is. */
function leastOf(enough: (factor: number) => boolean): number {
  if (enough(1)) return 1;
  let [low, high] = [0, Math.log(WEAKEST)];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (enough(Math.exp(middle))) high = middle;
    else low = middle;
  }
  return Math.exp(high);
}
