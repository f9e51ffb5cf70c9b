import { Matrix, solve } from 'ml-matrix';
import { mean, standardDeviation } from '../../numerics/statistics.ts';

export interface VarianceShare {
  readonly name: string;
  /** Change of the result for one standard deviation of the input, in the result's unit. */
  readonly effect: number;
  /** Part of the result's variance, 0 to 1. */
  readonly share: number;
}

/** Results beyond one for each input and their mean: with fewer a fit follows chance, and its rest says nothing. */
const SPARE = 10;

/**
 * Main effects by a linear fit of the result on all inputs at once: share_k = (slope_k sd_k)^2 / variance. With
 * independent inputs the shares and the rest (curvature, interplay, what was not listed) sum to 1 but for chance; the rest
 * is told without the share that as many inputs would take by chance.
 *
 * @param inputs one column an input, as long as `result`; constant columns are left out
 * @returns rest 1 where nothing varies; NaN, and no shares, where the results are too few to tell
 */
export function varianceShares(
  inputs: Readonly<Record<string, readonly number[]>>,
  result: readonly number[],
): { readonly shares: readonly VarianceShare[]; readonly rest: number } {
  const spread = standardDeviation(result);
  const columns = Object.entries(inputs)
    .map(([name, values]) => ({ name, values, centre: mean(values), sd: standardDeviation(values) }))
    .filter(({ values }) => varies(values));
  if (!varies(result) || columns.length === 0) return { shares: [], rest: 1 };
  const free = result.length - 1 - columns.length;
  if (free < SPARE) return { shares: [], rest: NaN };
  const centre = mean(result);
  const design = new Matrix(
    result.map((_, i) => columns.map(({ values, centre: m, sd }) => (values[i]! - m) / sd)),
  );
  const y = Matrix.columnVector(result.map((value) => value - centre));
  const slopes = solve(design.transpose().mmul(design), design.transpose().mmul(y)).to1DArray();
  const left = y
    .clone()
    .sub(design.mmul(Matrix.columnVector(slopes)))
    .to1DArray();
  const shares = columns.map(({ name }, k) => ({
    name,
    effect: slopes[k]!,
    share: (slopes[k]! / spread) ** 2,
  }));
  const rest = Math.min(1, left.reduce((sum, value) => sum + value * value, 0) / (free * spread ** 2));
  return { shares: shares.sort((a, b) => b.share - a.share), rest };
}

/** By its ends: the mean of very many equal values is off by rounding, which would be taken for a spread. */
function varies(values: readonly number[]): boolean {
  let [low, high] = [Infinity, -Infinity];
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return high - low > 1e-12 * Math.max(Math.abs(low), Math.abs(high));
}
