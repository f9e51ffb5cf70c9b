import { Matrix } from 'ml-matrix';
import { afterSeeing, chooseAlong, withMarginal, type Gaussian } from '../numerics/gaussian.ts';
import type { Knowledge } from './knowledge.ts';
import { together, type ShownCapture } from './seen-captures.ts';

/** Of a value that the captures leave open: so many times what was open before, which then counts. */
const OPEN = 10;

/**
 * What is known with the captures counted: all that is open, together, as the captures show it. Of the values that a fit tells
 * no combination is told better than the fit does, which has looked closer, nor worse than before; everything else follows
 * them as the captures have it, so that nothing that a fit left open is added twice, and a combination that it tells well is
 * told well though each of its values is not.
 */
export function knownAfter(before: Gaussian, seen: readonly ShownCapture[], known: Knowledge): Gaussian {
  if (seen.length === 0) return before;
  const { slopes, errors } = together(seen, before.mean.length);
  const shown = afterSeeing(before, slopes, errors);
  const { values, correlations } = known;
  const told = values.flatMap((_, i) => (before.covariance.get(i, i) > 0 ? [i] : []));
  if (told.length === 0) return shown;
  // A direction counts in the deviation that its value has, but where that is more than was open before.
  const deviation = (i: number): number => {
    const was = Math.sqrt(before.covariance.get(i, i));
    const { deviation: own, before: believed } = values[i]!;
    const room = believed ?? Infinity;
    return Number.isFinite(own) ? Math.min(OPEN * was, Math.max(1, own / Math.min(own, room))) : OPEN * was;
  };
  const ofFit = new Matrix(
    told.map((i) =>
      told.map((k) => deviation(i) * deviation(k) * (i === k ? 1 : (correlations[i]?.[k] ?? 0))),
    ),
  );
  const part = (of: Gaussian): Matrix => of.covariance.selection(told, told);
  const notBetter = chooseAlong(ofFit, part(shown), Math.max);
  return withMarginal(shown, told, chooseAlong(notBetter, part(before), Math.min));
}
