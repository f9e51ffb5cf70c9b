import type { PointResult } from '../shared/shape.ts';

/** Results with the least ONE and the greatest ZERO, of which each is undefined where nothing was read. */
export const extremes = (
  results: readonly PointResult[],
): { readonly least: PointResult | undefined; readonly greatest: PointResult | undefined } => ({
  least: extreme(results, 'one', (a, b) => a < b),
  greatest: extreme(results, 'zero', (a, b) => a > b),
});

function extreme(
  results: readonly PointResult[],
  key: 'one' | 'zero',
  beats: (a: number, b: number) => boolean,
): PointResult | undefined {
  return results.reduce<PointResult | undefined>(
    (best, result) => (!best || beats(Number(result.values[key]), Number(best.values[key])) ? result : best),
    undefined,
  );
}

/** V: the smaller of the two margins. */
export const worstMargin = ({ values }: PointResult): number =>
  Math.min(Number(values.marginOne), Number(values.marginZero));
