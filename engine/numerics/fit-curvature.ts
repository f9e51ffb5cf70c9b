import { Matrix, SingularValueDecomposition } from 'ml-matrix';

/** A combination of parameters that the data hardly tell, or not at all. */
export interface UndeterminedCombination {
  /** Unit vector in scaled parameters (each divided by its scale); one entry a parameter. */
  readonly direction: readonly number[];
  /** Standard error along it, in scales; Infinity when blind. */
  readonly error: number;
  /** True when the data say nothing at all: its singular value is lost in rounding. */
  readonly blind: boolean;
}

/** What the Jacobian at the solution says about uncertainty. Held parameters have NaN. */
export interface Curvature {
  /** Row-major covariance, parameters by parameters. */
  readonly covariance: Float64Array;
  readonly standardErrors: Float64Array;
  /** Row-major correlations, -1..1. */
  readonly correlations: Float64Array;
  /** Samples minus the number of combinations that the data tell. */
  readonly degreesOfFreedom: number;
  /** Standard deviation of one residual as estimated from the fit. */
  readonly residualStandardDeviation: number;
  /** Combinations known no better than half a scale. */
  readonly undetermined: readonly UndeterminedCombination[];
}

export interface CurvatureInput {
  /** Row-major, samples by parameters. */
  readonly jacobian: Float64Array;
  readonly free: readonly number[];
  readonly scale: Float64Array;
  readonly parameters: number;
  readonly samples: number;
  readonly cost: number;
  readonly noise: 'known' | 'estimated';
}

/** A singular value below this fraction of the greatest is rounding (central differences carry about 1e-10). */
const BLIND = 1e-11;
/** A combination known no better than this many scales is reported. */
const WEAK = 0.5;

/** Covariance and blind spots from the Jacobian: covariance = s^2 (J^T J)^-1 through the singular values. */
export function describeCurvature(input: CurvatureInput): Curvature {
  const { jacobian, free, scale, parameters: n, samples, cost } = input;
  const covariance = new Float64Array(n * n).fill(NaN);
  const undetermined: UndeterminedCombination[] = [];
  let rank = 0;
  let sigma = 1;
  if (free.length > 0 && jacobian.length > 0) {
    // Columns of unit norm keep the arithmetic even; `unit` undoes it.
    const unit = free.map((j) => Math.sqrt(sumColumn(jacobian, j, n)) || 1);
    const scaled = new Matrix(samples, free.length);
    for (let i = 0; i < samples; i++) {
      for (let k = 0; k < free.length; k++) scaled.set(i, k, jacobian[i * n + free[k]] / unit[k]);
    }
    const svd = new SingularValueDecomposition(scaled, { autoTranspose: true });
    const right = svd.rightSingularVectors;
    const greatest = svd.diagonal[0];
    const inverse = svd.diagonal.map((s) => (s > BLIND * greatest ? 1 / s : 0));
    rank = inverse.filter((v) => v > 0).length;
    if (input.noise === 'estimated') sigma = scatter(cost, samples - rank);
    for (let a = 0; a < free.length; a++) {
      for (let b = 0; b < free.length; b++) {
        let sum = 0;
        for (let k = 0; k < inverse.length; k++) sum += right.get(a, k) * right.get(b, k) * inverse[k] ** 2;
        covariance[free[a] * n + free[b]] = (sigma * sigma * sum) / unit[a] / unit[b];
      }
    }
    inverse.forEach((inv, k) => {
      const raw = free.map((j, a) => right.get(a, k) / unit[a] / scale[j]);
      const length = Math.hypot(...raw);
      const blind = inv === 0;
      const error = blind ? Infinity : sigma * inv * length;
      if (!blind && !(error > WEAK)) return;
      const direction = Array.from({ length: n }, () => 0);
      free.forEach((j, a) => (direction[j] = raw[a] / length));
      undetermined.push({ direction, error, blind });
      if (blind) free.forEach((j) => Math.abs(direction[j]) > 1e-6 && (covariance[j * n + j] = Infinity));
    });
  }
  const standardErrors = Float64Array.from({ length: n }, (_, j) => Math.sqrt(covariance[j * n + j]));
  const correlations = covariance.map((c, at) => {
    const [row, column] = [Math.floor(at / n), at % n];
    return row === column ? 1 : c / (standardErrors[row] * standardErrors[column]);
  });
  const degreesOfFreedom = samples - rank;
  const residualStandardDeviation = scatter(cost, degreesOfFreedom);
  return {
    covariance,
    standardErrors,
    correlations,
    degreesOfFreedom,
    residualStandardDeviation,
    undetermined,
  };
}

const scatter = (cost: number, degrees: number): number => (degrees > 0 ? Math.sqrt(cost / degrees) : NaN);

function sumColumn(jacobian: Float64Array, j: number, n: number): number {
  let sum = 0;
  for (let i = j; i < jacobian.length; i += n) sum += jacobian[i] * jacobian[i];
  return sum;
}
