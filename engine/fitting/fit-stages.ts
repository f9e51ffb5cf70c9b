import { leastSquares, type LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { FitError, type BenchRuns } from './bench-runs.ts';
import { isWhite } from './compare.ts';
import { shareOf } from './fit-captures.ts';
import {
  captureResiduals,
  layoutOf,
  problemOf,
  valuesOf,
  type FitModel,
  type FitParameter,
} from './fit-problem.ts';
import { makePredict } from './fit-predict.ts';
import { shapesOf, type CaptureShapes } from './fit-shapes.ts';
import { believedOf, type Belief, type HiddenUnknown } from './knowledge/beliefs.ts';
import { FLAT_TOPPED, LEANS } from './knowledge/discrepancy.ts';
import { informationIn, type Information } from './knowledge/information.ts';
import { inside, scaleOf } from './knowledge/scale.ts';
import { UNKNOWNS, type UnknownName } from './unknown-table.ts';
import { rangeOf, withValues, type UnknownRange } from './unknowns.ts';

/** Does a fit leave noise alone in every capture? */
export function explains(model: FitModel, fit: LeastSquaresFit, runs: BenchRuns): boolean {
  return residualsLeft(model, fit, runs)?.every((residuals) => isWhite(residuals, 1)) === true;
}

/** What a fit leaves of each capture, in standard deviations of its noise. */
function residualsLeft(model: FitModel, fit: LeastSquaresFit, runs: BenchRuns): Float64Array[] | undefined {
  const layout = layoutOf(model);
  const names = model.parameters.map((p) => p.name);
  const predict = makePredict(model.base, names, model.prepared, runs);
  const traces = predict(valuesOf(model.parameters, fit.parameters));
  return traces?.map((trace, k) => captureResiduals(model, trace, fit.parameters, layout, k));
}

/** `believed`: what the design says of it; where a search starts is no belief. */
export const parameterOf = (
  name: UnknownName,
  range: UnknownRange,
  believed: Belief | undefined,
): FitParameter => {
  const scale = scaleOf(range);
  return { name, range, scale, prior: scale.logarithmic ? believed : undefined };
};

export type Solve = (
  model: FitModel,
  start: Float64Array,
  tolerance: number,
  most: number,
) => LeastSquaresFit;

/** Runs one stage of a fit; iterations are told through all stages. */
export function solver(runs: BenchRuns, planned: number): Solve {
  let before = 0;
  return (model, start, tolerance, maxIterations) => {
    const names = model.parameters.map((p) => p.name);
    const predict = makePredict(model.base, names, model.prepared, runs);
    const problem = problemOf(model, start, predict);
    if (problem.residuals(start).some((v) => !Number.isFinite(v))) throw noStart(model.parameters);
    const onIteration = (done: number): void => runs.advance(Math.min(planned, before + done));
    const options = {
      maxIterations,
      tolerance,
      differenceStep: 1e-3,
      oneSided: true,
      noise: 'known' as const,
      onIteration,
    };
    const fit = leastSquares(problem, options);
    before += fit.iterations;
    return fit;
  };
}

/** The model with what is hidden and how it may depart, about the rough fit. */
export function widen(
  model: FitModel,
  rough: LeastSquaresFit,
  hidden: readonly HiddenUnknown[],
  runs: BenchRuns,
): { readonly model: FitModel; readonly start: Float64Array } {
  const { base, parameters } = model;
  const more = hidden
    .filter((h) => h.exact)
    .map((h) => parameterOf(h.name, rangeOf(base, h.name) as UnknownRange, believedOf(base, h.name, false)));
  const shapes = shapesAt(model, rough, hidden, runs);
  const bells = shapes.some((s) => s.bell !== undefined) ? [LEANS, FLAT_TOPPED] : [];
  const departures = [...bells, ...new Set(shapes.flatMap((s) => [...s.linear.keys()]))];
  const start = Float64Array.from([
    ...rough.parameters.slice(0, parameters.length),
    ...more.map(({ scale, range }) => inside(scale, range.start)),
    ...departures.map(() => 0),
    ...rough.parameters.slice(parameters.length),
  ]);
  return { model: { ...model, parameters: [...parameters, ...more], departures, shapes }, start };
}

/** What may be added to each capture's prediction, about where a fit stands. */
export function shapesAt(
  { base, parameters, prepared }: FitModel,
  fit: LeastSquaresFit,
  hidden: readonly HiddenUnknown[],
  runs: BenchRuns,
): CaptureShapes[] {
  const names = parameters.map((p) => p.name);
  const values = valuesOf(parameters, fit.parameters);
  return prepared.map((c) =>
    shapesOf(withValues(c.start, names, shareOf(c, base, names, values)), c.observed, c.until, hidden, runs),
  );
}

/**
 * How much less each capture tells than its noise says, from what the second stage left. What a wrong model leaves is
 * much the same in every capture, so that several of them do not average it away.
 */
export function toldBy(model: FitModel, fit: LeastSquaresFit, runs: BenchRuns): readonly Information[] {
  const left = residualsLeft(model, fit, runs);
  if (left === undefined) return model.told;
  const captures = model.prepared.length;
  const own = Math.ceil(model.asked / captures) + 2;
  return left.map((residuals) => {
    const { inflation, stretches } = informationIn(residuals, own);
    return inflation > 1.5
      ? { inflation: 1 + (inflation - 1) * captures, stretches: stretches / captures }
      : { inflation, stretches };
  });
}

const noStart = (parameters: readonly FitParameter[]): FitError =>
  new FitError(
    '/ranges',
    `A fit must start where the model has a finite answer; it has none at ${parameters
      .map(({ name, range }) => `${name} = ${range.start} ${UNKNOWNS[name].unit}`)
      .join(', ')}: choose other starts.`,
  );
