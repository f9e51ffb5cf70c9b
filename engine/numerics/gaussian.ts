import { EigenvalueDecomposition, inverse, Matrix } from 'ml-matrix';

/** A normal distribution of several numbers together. */
export interface Gaussian {
  readonly mean: readonly number[];
  readonly covariance: Matrix;
}

/** Each by itself. */
export const independent = (mean: readonly number[], deviations: readonly number[]): Gaussian => ({
  mean,
  covariance: Matrix.diag(deviations.map((d) => d ** 2)),
});

/**
 * What is left unknown after something was seen that depends on the numbers in straight lines.
 *
 * @param slopes what is seen, row by row, per unit of each number
 * @param errors covariance of the errors with which it is seen
 * @param seen what was seen less what the numbers at 0 would give; left out: just that, so that only the mean moves
 */
export function afterSeeing(
  { mean, covariance }: Gaussian,
  slopes: Matrix,
  errors: Matrix,
  seen: readonly number[] = Array.from({ length: slopes.rows }, () => 0),
): Gaussian {
  if (slopes.rows === 0) return { mean, covariance };
  const cross = covariance.mmul(slopes.transpose());
  const whole = Matrix.add(slopes.mmul(cross), errors);
  const gain = cross.mmul(inverse(symmetric(whole)));
  const missed = Matrix.sub(Matrix.columnVector([...seen]), slopes.mmul(Matrix.columnVector([...mean])));
  return {
    mean: Matrix.add(Matrix.columnVector([...mean]), gain.mmul(missed)).to1DArray(),
    covariance: symmetric(Matrix.sub(covariance, gain.mmul(cross.transpose()))),
  };
}

const symmetric = (m: Matrix): Matrix => Matrix.add(m, m.transpose()).mul(0.5);

/** A matrix L with L Lᵀ = covariance; directions that rounding has made negative count as nought. */
export function rootOf(covariance: Matrix): Matrix {
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(covariance, {
    assumeSymmetric: true,
  });
  return eigenvectorMatrix.mmul(Matrix.diag(realEigenvalues.map((v) => Math.sqrt(Math.max(0, v)))));
}

/** Mean and standard deviation of a sum of the numbers. */
export function along(
  { mean, covariance }: Gaussian,
  slopes: readonly number[],
): {
  readonly mean: number;
  readonly deviation: number;
} {
  const row = Matrix.rowVector([...slopes]);
  const variance = row.mmul(covariance).mmul(row.transpose()).get(0, 0);
  return {
    mean: slopes.reduce((sum, s, i) => sum + s * mean[i]!, 0),
    deviation: Math.sqrt(Math.max(0, variance)),
  };
}

/** Share of a variance below which it counts as this: rounding leaves none at nought. */
const LEAST = 1e-9;

/**
 * Of two covariances the greater or the lesser along each of the combinations in which both are independent.
 *
 * @param choose of the ratio of a to b along one of them, and 1
 */
export function chooseAlong(a: Matrix, b: Matrix, choose: (ratio: number, one: number) => number): Matrix {
  const least = LEAST * b.trace();
  const padded = Matrix.add(b, Matrix.eye(b.rows).mul(least));
  const root = rootOf(padded);
  const back = inverse(root);
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(
    symmetric(back.mmul(a).mmul(back.transpose())),
    { assumeSymmetric: true },
  );
  const whole = root.mmul(eigenvectorMatrix);
  return symmetric(
    whole.mmul(Matrix.diag(realEigenvalues.map((v) => choose(Math.max(0, v), 1)))).mmul(whole.transpose()),
  );
}

/** The same numbers with another covariance of some of them; how all others go with these stays as it was. */
export function withMarginal(
  { mean, covariance }: Gaussian,
  places: readonly number[],
  own: Matrix,
): Gaussian {
  const all = covariance.to2DArray().map((_, i) => i);
  const was = covariance.selection([...places], [...places]);
  const least = LEAST * was.trace();
  const follow = covariance
    .selection(all, [...places])
    .mmul(inverse(Matrix.add(was, Matrix.eye(was.rows).mul(least))));
  const change = follow.mmul(Matrix.sub(own, was)).mmul(follow.transpose());
  return { mean, covariance: symmetric(Matrix.add(covariance, change)) };
}
