import { describeCurvature } from './fit-curvature.ts';
import type { Curvature } from './fit-curvature.ts';
import { columnNorm, differentiate } from './jacobian.ts';
import { relativeOffset, stepAt, sumOfSquares, tangentPlane, type TangentPlane } from './tangent-plane.ts';

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
  /** One-sided differences: half the price, and the slope only to the step's own share. */
  readonly oneSided?: boolean;
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
  /** At the last iteration, row-major. */
  readonly jacobian: Float64Array;
  /**
   * Relative offset of Bates and Watts: length of the residuals' part in the tangent plane over sqrt(parameters),
   * divided by the rest over sqrt(degrees of freedom): how far, in standard errors, the minimum may still be.
   */
  readonly offset: number;
  readonly atBound: readonly ('lower' | 'upper' | undefined)[];
  readonly iterations: number;
  readonly evaluations: number;
}

/** Where the fit stands. */
interface Search {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly scale: Float64Array;
  /** Of the columns of the Jacobian, see above. */
  readonly norms: Float64Array;
  readonly evaluate: (at: Float64Array) => Float64Array;
  p: Float64Array;
  r: Float64Array;
  cost: number;
  damping: number;
  /** By which the damping rises when a step is refused. */
  growth: number;
  offset: number;
  iterations: number;
  evaluations: number;
  jacobian: Float64Array<ArrayBuffer>;
  /** Parameters not held at a bound. */
  free: number[];
}

/** Runs the fit. Throws RangeError when the start lies outside its bounds or gives residuals that are not finite. */
export function leastSquares(
  problem: LeastSquaresProblem,
  options: LeastSquaresOptions = {},
): LeastSquaresFit {
  const search = beginSearch(problem);
  const outcome = runSearch(search, options);
  const { p, r, cost, scale, lower, upper, jacobian, free, offset, iterations, evaluations } = search;
  const curvature = describeCurvature({
    jacobian,
    free,
    scale,
    parameters: p.length,
    samples: r.length,
    cost,
    noise: options.noise ?? 'estimated',
  });
  const blind = curvature.undetermined.some((u) => u.blind) && outcome !== 'cancelled';
  return {
    outcome: blind ? 'singular' : outcome,
    parameters: p,
    cost,
    residuals: r,
    jacobian,
    offset,
    atBound: Array.from(p, (v, i) => (v === lower[i] ? 'lower' : v === upper[i] ? 'upper' : undefined)),
    iterations,
    evaluations,
    ...curvature,
  };
}

function beginSearch(problem: LeastSquaresProblem): Search {
  const n = problem.start.length;
  const p = Float64Array.from(problem.start);
  const search: Search = {
    lower: Float64Array.from({ length: n }, (_, i) => problem.lower?.[i] ?? -Infinity),
    upper: Float64Array.from({ length: n }, (_, i) => problem.upper?.[i] ?? Infinity),
    scale: p.map((v, i) => problem.scale?.[i] ?? (Math.abs(v) || 1)),
    norms: new Float64Array(n),
    evaluate(at) {
      search.evaluations++;
      return problem.residuals(at);
    },
    p,
    r: new Float64Array(0),
    cost: NaN,
    damping: 0.1,
    growth: 2,
    offset: Infinity,
    iterations: 0,
    evaluations: 0,
    jacobian: new Float64Array(0),
    free: [],
  };
  search.r = search.evaluate(p);
  search.cost = sumOfSquares(search.r);
  const { cost, lower, upper } = search;
  if (!Number.isFinite(cost) || p.some((v, i) => !(v >= lower[i] && v <= upper[i]))) {
    throw new RangeError('A fit must start inside its bounds, at parameters that give finite residuals.');
  }
  return search;
}

/** One Jacobian after the other until the fit stands still. */
function runSearch(search: Search, options: LeastSquaresOptions): FitOutcome {
  const { maxIterations = 200, tolerance = 1e-8, differenceStep = 6e-6 } = options;
  const { norms } = search;
  const n = norms.length;
  while (search.iterations < maxIterations) {
    if (options.cancelled?.()) return 'cancelled';
    search.iterations++;
    options.onIteration?.(search.iterations);
    const jacobian = differentiate(search, differenceStep, options.oneSided);
    search.jacobian = jacobian;
    for (let j = 0; j < n; j++) norms[j] = Math.max(norms[j] / 2, columnNorm(jacobian, j, n));
    const { p, r, cost, lower, upper } = search;
    const free = freeParameters(jacobian, r, p, lower, upper);
    search.free = free;
    const plane = tangentPlane(jacobian, r, free, norms, n);
    search.offset = relativeOffset(plane.projection, cost, r.length, free.length, options.noise);
    const still = stepAt(plane, 0, free, norms).every((s, k) => negligible(s, p[free[k]]));
    if (search.offset <= tolerance || still) return 'converged';
    if (!descend(search, plane)) return search.offset < 1e-3 ? 'converged' : 'stalled';
  }
  return 'iteration limit';
}

/** Raises the damping until a step lowers the sum of squares, and takes that; false when none does. */
function descend(search: Search, plane: TangentPlane): boolean {
  const { p, r, cost, lower, upper, scale, norms, jacobian, free } = search;
  while (search.damping < 1e16) {
    const trial = Float64Array.from(p);
    const step = shorten(stepAt(plane, search.damping, free, norms), free, p, scale);
    free.forEach((j, k) => (trial[j] = Math.min(upper[j], Math.max(lower[j], p[j] + step[k]))));
    const trialResiduals = search.evaluate(trial);
    const trialCost = sumOfSquares(trialResiduals);
    const predicted = predictedDrop(jacobian, r, p, trial, p.length);
    const gain = (cost - trialCost) / predicted;
    if (Number.isFinite(trialCost) && trialCost < cost && predicted > 0) {
      search.damping = Math.max(1e-14, search.damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3));
      search.growth = 2;
      search.p = trial;
      search.r = trialResiduals;
      search.cost = trialCost;
      return true;
    }
    search.damping *= search.growth;
    search.growth *= 2;
    if (trial.every((v, i) => v === p[i])) return false;
  }
  return false;
}

/** No digit left: the step is below rounding of the parameter. */
const negligible = (step: number, value: number): boolean => Math.abs(step) <= 4e-16 * Math.abs(value);

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

/** Longest step of a parameter, in units of its size or its scale, the greater. */
const STEP_LIMIT = 1;

function shorten(step: number[], free: readonly number[], p: Float64Array, scale: Float64Array): number[] {
  const longest = Math.max(
    ...step.map((s, k) => Math.abs(s) / Math.max(Math.abs(p[free[k]]), scale[free[k]])),
  );
  return longest > STEP_LIMIT ? step.map((s) => (s * STEP_LIMIT) / longest) : step;
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
