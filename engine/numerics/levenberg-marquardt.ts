import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { describeCurvature } from './fit-curvature.ts';
import type { Curvature } from './fit-curvature.ts';

/**
 * Least squares by Levenberg and Marquardt: minimises the sum of squares of `residuals(p)`.
 *
 * Parameters are scaled by `scale` (default |start|), columns of the Jacobian by their norms (which fall by no more than half from one to the next: measured on MGH17 and MGH10, neither the greatest so far nor the present norm alone finds the way from the far starts), so
 * SI magnitudes from pF to MV do not matter. One singular value decomposition a Jacobian gives the step at every
 * damping, the relative offset that decides convergence, and the combinations that the data cannot tell. Damping
 * is raised and lowered by the gain ratio (Nielsen's rule). No step changes
 * a parameter by more than its own size (or its scale, the greater), so that a poor start does not throw the fit
 * on to a plateau from which no gradient leads back (BoxBOD). A parameter at a bound whose gradient points outward
 * is held there; a step is clipped at the bounds.
 */
export interface LeastSquaresProblem {
  /** Model minus data, each divided by its standard deviation if that is known. NaN or Infinity: step refused. */
  readonly residuals: (parameters: Float64Array) => Float64Array;
  readonly start: ArrayLike<number>;
  readonly lower?: ArrayLike<number>;
  readonly upper?: ArrayLike<number>;
  /** A typical size of each parameter, > 0. */
  readonly scale?: ArrayLike<number>;
}

export interface LeastSquaresOptions {
  /** Jacobians at most (default 200). */
  readonly maxIterations?: number;
  /** Relative offset (see `offset`) at which to stop (default 1e-8). */
  readonly tolerance?: number;
  /** Difference step as a fraction of |p| or of a thousandth of its scale, the greater (default 6e-6, central). */
  readonly differenceStep?: number;
  /** 'known': residuals are in standard deviations; 'estimated' (default): their scatter is estimated. */
  readonly noise?: 'known' | 'estimated';
  readonly cancelled?: () => boolean;
  /** Told the number of each iteration as it begins, from 1. */
  readonly onIteration?: (iteration: number) => void;
}

/**
 * converged: the next full step would move no combination by more than a thousandth of its standard error, or
 * no digit of any parameter; stalled: no step lowers the sum of squares although that is not so; singular: the
 * data say nothing about some combination (see `undetermined`); iteration limit: it was still moving.
 */
export type FitOutcome = 'converged' | 'stalled' | 'singular' | 'iteration limit' | 'cancelled';

export interface LeastSquaresFit extends Curvature {
  readonly outcome: FitOutcome;
  readonly parameters: Float64Array;
  /** Sum of squares of the residuals. */
  readonly cost: number;
  readonly residuals: Float64Array;
  /**
   * Relative offset of Bates and Watts: length of the residuals' part in the tangent plane over sqrt(parameters),
   * divided by the rest over sqrt(degrees of freedom): how far, in standard errors, the minimum may still be.
   */
  readonly offset: number;
  readonly atBound: readonly ('lower' | 'upper' | undefined)[];
  readonly iterations: number;
  readonly evaluations: number;
}

const sumOfSquares = (values: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
};

/** Runs the fit. Throws RangeError when the start lies outside its bounds or gives residuals that are not finite. */
export function leastSquares(
  problem: LeastSquaresProblem,
  options: LeastSquaresOptions = {},
): LeastSquaresFit {
  const { maxIterations = 200, tolerance = 1e-8, differenceStep = 6e-6, noise = 'estimated' } = options;
  const n = problem.start.length;
  const lower = Float64Array.from({ length: n }, (_, i) => problem.lower?.[i] ?? -Infinity);
  const upper = Float64Array.from({ length: n }, (_, i) => problem.upper?.[i] ?? Infinity);
  let p = Float64Array.from(problem.start);
  const scale = p.map((v, i) => problem.scale?.[i] ?? (Math.abs(v) || 1));
  let evaluations = 0;
  const evaluate = (at: Float64Array): Float64Array => {
    evaluations++;
    return problem.residuals(at);
  };
  let r = evaluate(p);
  let cost = sumOfSquares(r);
  if (!Number.isFinite(cost) || p.some((v, i) => !(v >= lower[i] && v <= upper[i]))) {
    throw new RangeError('A fit must start inside its bounds, at parameters that give finite residuals.');
  }

  const norms = new Float64Array(n);
  let damping = 0.1;
  let growth = 2;
  let outcome: FitOutcome = 'iteration limit';
  let offset = Infinity;
  let iterations = 0;
  let jacobian = new Float64Array(0);
  let free: number[] = [];

  while (iterations < maxIterations) {
    if (options.cancelled?.()) {
      outcome = 'cancelled';
      break;
    }
    iterations++;
    options.onIteration?.(iterations);
    jacobian = differentiate(evaluate, p, r.length, scale, lower, upper, differenceStep);
    for (let j = 0; j < n; j++) norms[j] = Math.max(norms[j] / 2, columnNorm(jacobian, j, n));
    free = freeParameters(jacobian, r, p, lower, upper);
    const plane = tangentPlane(jacobian, r, free, norms, n);
    offset = relativeOffset(plane.projection, cost, r.length, free.length);
    if (offset <= tolerance || stepAt(plane, 0, free, norms).every((s, k) => negligible(s, p[free[k]]))) {
      outcome = 'converged';
      break;
    }
    let moved = false;
    while (damping < 1e16) {
      const trial = Float64Array.from(p);
      const step = shorten(stepAt(plane, damping, free, norms), free, p, scale);
      free.forEach((j, k) => (trial[j] = Math.min(upper[j], Math.max(lower[j], p[j] + step[k]))));
      const trialResiduals = evaluate(trial);
      const trialCost = sumOfSquares(trialResiduals);
      const predicted = predictedDrop(jacobian, r, p, trial, n);
      const gain = (cost - trialCost) / predicted;
      if (Number.isFinite(trialCost) && trialCost < cost && predicted > 0) {
        damping = Math.max(1e-14, damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3));
        growth = 2;
        [p, r, cost, moved] = [trial, trialResiduals, trialCost, true];
        break;
      }
      damping *= growth;
      growth *= 2;
      if (trial.every((v, i) => v === p[i])) break;
    }
    if (!moved) {
      outcome = offset < 1e-3 ? 'converged' : 'stalled';
      break;
    }
  }

  const curvature = describeCurvature({
    jacobian,
    free,
    scale,
    parameters: n,
    samples: r.length,
    cost,
    noise,
  });
  if (curvature.undetermined.some((u) => u.blind) && outcome !== 'cancelled') outcome = 'singular';
  const atBound = Array.from(p, (v, i) => (v === lower[i] ? 'lower' : v === upper[i] ? 'upper' : undefined));
  return {
    outcome,
    parameters: p,
    cost,
    residuals: r,
    offset,
    atBound,
    iterations,
    evaluations,
    ...curvature,
  };
}

/** No digit left: the step is below rounding of the parameter. */
const negligible = (step: number, value: number): boolean => Math.abs(step) <= 4e-16 * Math.abs(value);

/** Row-major Jacobian by central differences, squeezed at a bound. */
function differentiate(
  evaluate: (at: Float64Array) => Float64Array,
  p: Float64Array,
  samples: number,
  scale: Float64Array,
  lower: Float64Array,
  upper: Float64Array,
  fraction: number,
): Float64Array<ArrayBuffer> {
  const n = p.length;
  const jacobian = new Float64Array(samples * n);
  for (let j = 0; j < n; j++) {
    const h = fraction * Math.max(Math.abs(p[j]), 1e-3 * scale[j]);
    const up = Float64Array.from(p);
    const down = Float64Array.from(p);
    up[j] = Math.min(upper[j], p[j] + h);
    down[j] = Math.max(lower[j], p[j] - h);
    const [above, below, span] = [evaluate(up), evaluate(down), up[j] - down[j]];
    for (let i = 0; i < samples; i++) {
      const slope = (above[i] - below[i]) / span;
      jacobian[i * n + j] = Number.isFinite(slope) ? slope : 0;
    }
  }
  return jacobian;
}

function columnNorm(jacobian: Float64Array, j: number, n: number): number {
  let sum = 0;
  for (let i = j; i < jacobian.length; i += n) sum += jacobian[i] * jacobian[i];
  return Math.sqrt(sum);
}

/** Parameters not held at a bound by an outward gradient. */
function freeParameters(
  jacobian: Float64Array,
  r: Float64Array,
  p: Float64Array,
  lower: Float64Array,
  upper: Float64Array,
): number[] {
  const n = p.length;
  const free: number[] = [];
  for (let j = 0; j < n; j++) {
    let gradient = 0;
    for (let i = 0; i < r.length; i++) gradient += jacobian[i * n + j] * r[i];
    if (!((p[j] <= lower[j] && gradient > 0) || (p[j] >= upper[j] && gradient < 0))) free.push(j);
  }
  return free;
}

interface TangentPlane {
  readonly singular: readonly number[];
  readonly right: Matrix;
  /** Residuals along each left singular vector. */
  readonly projection: Float64Array;
}

function tangentPlane(
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

/** Longest step of a parameter, in units of its size or its scale, the greater. */
const STEP_LIMIT = 1;

function shorten(step: number[], free: readonly number[], p: Float64Array, scale: Float64Array): number[] {
  const longest = Math.max(
    ...step.map((s, k) => Math.abs(s) / Math.max(Math.abs(p[free[k]]), scale[free[k]])),
  );
  return longest > STEP_LIMIT ? step.map((s) => (s * STEP_LIMIT) / longest) : step;
}

/** The damped step of the free parameters: -D^-1 V s/(s^2 + damping) U^T r. */
function stepAt(
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

function relativeOffset(projection: Float64Array, cost: number, samples: number, count: number): number {
  if (count === 0) return 0;
  const inside = sumOfSquares(projection);
  const outside = Math.max(0, cost - inside);
  const degrees = Math.max(1, samples - count);
  return outside === 0 ? (inside === 0 ? 0 : Infinity) : Math.sqrt(inside / count / (outside / degrees));
}

/** Drop of the sum of squares that the linear model predicts for the step actually taken (after clipping). */
function predictedDrop(
  jacobian: Float64Array,
  r: Float64Array,
  from: Float64Array,
  to: Float64Array,
  n: number,
): number {
  let drop = 0;
  for (let i = 0; i < r.length; i++) {
    let change = 0;
    for (let j = 0; j < n; j++) change += jacobian[i * n + j] * (to[j] - from[j]);
    drop -= change * (2 * r[i] + change);
  }
  return drop;
}
