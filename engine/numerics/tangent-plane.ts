import { Matrix, SingularValueDecomposition } from 'ml-matrix';

/** The residuals as the free parameters move them, by singular values. */
export interface TangentPlane {
  readonly singular: readonly number[];
  readonly right: Matrix;
  /** Residuals along each left singular vector. */
  readonly projection: Float64Array;
}

export function tangentPlane(
  jacobian: Float64Array,
  r: Float64Array,
  free: readonly number[],
  norms: Float64Array,
  n: number,
): TangentPlane {
  if (free.length === 0)
    return {
      singular: [],
      right: Matrix.zeros(0, 0),
      projection: new Float64Array(0),
    };
  const scaled = new Matrix(r.length, free.length);
  for (let i = 0; i < r.length; i++) {
    for (let k = 0; k < free.length; k++) scaled.set(i, k, jacobian[i * n + free[k]] / (norms[free[k]] || 1));
  }
  const svd = new SingularValueDecomposition(scaled, { autoTranspose: true });
  const left = svd.leftSingularVectors;
  return {
    singular: svd.diagonal,
    right: svd.rightSingularVectors,
    projection: projectOn(left, r, free.length),
  };
}

/** Components of a vector along each column of `left`. */
function projectOn(left: Matrix, r: Float64Array, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, k) => {
    let sum = 0;
    if (k < left.columns) for (let i = 0; i < r.length; i++) sum += left.get(i, k) * r[i];
    return sum;
  });
}

/** The damped step of the free parameters: -D^-1 V s/(s^2 + damping) U^T r. */
export function stepAt(
  plane: TangentPlane,
  damping: number,
  free: readonly number[],
  norms: Float64Array,
): number[] {
  const floor = 1e-15 * (plane.singular[0] ?? 0);
  return free.map((j, row) => {
    let sum = 0;
    for (let k = 0; k < plane.singular.length; k++) {
      const s = plane.singular[k];
      if (s > floor) sum -= (plane.right.get(row, k) * s * plane.projection[k]) / (s * s + damping);
    }
    return sum / (norms[j] || 1);
  });
}

/**
 * See `LeastSquaresFit.offset`. Where the noise is known, what is left may be less than it: then one standard deviation
 * is the measure.
 */
export function relativeOffset(
  projection: Float64Array,
  cost: number,
  samples: number,
  count: number,
  noise: 'known' | 'estimated' = 'estimated',
): number {
  if (count === 0) return 0;
  const inside = sumOfSquares(projection);
  const outside = Math.max(0, cost - inside);
  const degrees = Math.max(1, samples - count);
  if (noise === 'known') return Math.sqrt(inside / count / Math.max(1, outside / degrees));
  return outside === 0 ? (inside === 0 ? 0 : Infinity) : Math.sqrt(inside / count / (outside / degrees));
}

export const sumOfSquares = (values: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
};
