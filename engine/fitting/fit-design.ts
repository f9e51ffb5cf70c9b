import { checkDesign } from '../check/check-design.ts';
import type { Design } from '../design/design.ts';
import { leastSquares } from '../numerics/levenberg-marquardt.ts';
import type { FitOutcome, LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { simulate as realSimulate } from '../simulate/simulate.ts';
import type { Json } from '../studies/shared/shape.ts';
import { createRuns, FitError } from './bench-runs.ts';
import type { BenchControl, BenchRuns, Simulate } from './bench-runs.ts';
import { isWhite } from './compare.ts';
import type { Comparison } from './compare.ts';
import { prepareCapture, shareOf } from './fit-captures.ts';
import type { FitCapture } from './fit-captures.ts';
import { captureResiduals, extraStarts, layoutOf, makePredict, problemOf, valuesOf } from './fit-problem.ts';
import type { FitModel, FitParameter } from './fit-problem.ts';
import { reportFit } from './fit-report.ts';
import { shapesOf } from './fit-shapes.ts';
import type { CaptureShapes } from './fit-shapes.ts';
import type { LineUp } from './align/line-up.ts';
import type { Judgement } from './judge/judgement.ts';
import { FLAT_TOPPED, LEANS } from './knowledge/discrepancy.ts';
import { hiddenUnknowns, priorSpread } from './knowledge/core-range.ts';
import type { HiddenUnknown } from './knowledge/core-range.ts';
import { inflationOf } from './knowledge/information.ts';
import type { Knowledge } from './knowledge/knowledge.ts';
import { inside, scaleOf } from './knowledge/scale.ts';
import { planRanges, unknownName } from './unknown-ranges.ts';
import type { AskedRanges } from './unknown-ranges.ts';
import { rangeOf, withValues } from './unknowns.ts';
import type { UnknownRange } from './unknowns.ts';
import { UNKNOWNS } from './unknown-table.ts';
import type { UnknownName } from './unknown-table.ts';

export interface FitRequest extends BenchControl {
  /** The design file to start from. */
  readonly design: Json;
  readonly captures: readonly FitCapture[];
  /** What is to be found; none: the captures are only lined up and compared. */
  readonly unknowns: readonly UnknownName[];
  /** Starts and bounds of unknowns that differ from those of the design, SI. */
  readonly ranges?: AskedRanges;
  readonly maxIterations?: number;
  readonly simulate?: Simulate;
}

export interface FittedUnknown {
  readonly name: UnknownName;
  readonly meaning: string;
  readonly unit: string;
  readonly start: number;
  /** How far it might go, SI. */
  readonly bounds: { readonly low: number; readonly high: number };
  readonly value: number;
  /** SI; NaN when held at a bound, Infinity when the captures say nothing about it. */
  readonly standardError: number;
  /**
   * 95 % interval, of one sign where the quantity has one. It holds what the noise leaves open, what the model may be
   * wrong by, and what else is not known of the core.
   */
  readonly interval: { readonly low: number; readonly high: number };
  readonly atBound: 'lower' | 'upper' | undefined;
}

export interface FitResult {
  readonly outcome: FitOutcome;
  /** How it ended and how good it is, in sentences. */
  readonly statements: readonly string[];
  readonly unknowns: readonly FittedUnknown[];
  /** Of the unknowns, row by row. */
  readonly correlations: readonly (readonly number[])[];
  /** Combinations that the captures tell badly or not at all, in sentences. */
  readonly undetermined: readonly string[];
  /** What is known after the fit, with how its parts hang together: what a prediction starts from. */
  readonly knowledge: Knowledge;
  readonly captures: readonly {
    readonly label: string;
    readonly judgement: Judgement;
    readonly lineUp: LineUp;
    readonly comparison: Comparison;
  }[];
  /** Mean square of all differences over the noise's. */
  readonly reducedChiSquare: number;
  /** True when noise alone explains what is left in every capture. */
  readonly good: boolean;
  /** A new design file that says in its note where it comes from. */
  readonly design: Json;
  readonly iterations: number;
  readonly runs: number;
}

/** Unknowns of one fit at most. */
export const MOST_UNKNOWNS = 12;
export const MOST_CAPTURES = 8;
/** Iterations of a fit that states no limit. */
export const FIT_ITERATIONS = 40;

/** Stages at most; the change of an inflation's logarithm that is within its own error. */
const STAGES = 4;
/** Standard errors by which the minimum may still be off. */
const CLOSE = 0.05;
const SETTLED = 0.3;

/**
 * Finds chosen unknowns of a design from one or several captures at once. Each capture has its own delay and offset
 * (gain and bandwidth too, where they are not known) beside the unknowns they share. What is not asked for and yet not
 * known of the core, how the model may depart, and what is alike in neighbouring differences widen the intervals.
 * Throws FitError, FitCancelled, LineUpError or DesignError.
 */
export function fitDesign(request: FitRequest): FitResult {
  const { unknowns, maxIterations = FIT_ITERATIONS } = request;
  const base = checkDesign(request.design);
  refuse(request, base);
  const ranges = planRanges(request.design, base, unknowns, request.ranges);
  const runs = createRuns(request.simulate ?? realSimulate, maxIterations, request);
  const prepared = request.captures.map((capture) => prepareCapture(request.design, capture, runs));
  const asked = unknowns.map((name, i) => parameterOf(name, ranges[i], priorSpread(name)));
  const first: FitModel = {
    base,
    parameters: asked,
    departures: [],
    prepared,
    shapes: prepared.map(() => ({ linear: new Map(), bell: undefined })),
    inflation: prepared.map(() => 1),
  };
  const start = Float64Array.from([
    ...asked.map(({ range, scale }) => inside(scale, range.start)),
    ...prepared.flatMap(extraStarts),
  ]);
  const solve = solver(runs, maxIterations);
  const rough = solve(first, start, 1e-4, maxIterations);
  if (unknowns.length === 0 || rough.outcome === 'singular')
    return reportFit({ request, model: first, hidden: [], plain: undefined, fit: rough, runs });
  const hidden = hiddenUnknowns(base, unknowns);
  const wide = widen(first, rough, hidden, runs);
  // Each stage trusts the captures as far as the one before it could explain them, so that no departure runs away.
  let model: FitModel = { ...wide.model, inflation: inflationsOf(first, rough, runs) };
  let fit = solve(model, wide.start, 0.2, 8);
  let iterations = rough.iterations + fit.iterations;
  for (let stage = 0; stage < STAGES; stage++) {
    const inflation = inflationsOf(model, fit, runs);
    const settled =
      stage > 0 && inflation.every((f, k) => Math.abs(Math.log(f / model.inflation[k])) < SETTLED);
    if (settled && fit.outcome === 'converged') break;
    // The shapes belong to where the fit stands: taken anew where it has come to.
    model = { ...model, inflation, shapes: shapesAt(model, fit, hidden, runs) };
    fit = solve(model, fit.parameters, CLOSE, stage === STAGES - 1 ? maxIterations : 8);
    iterations += fit.iterations;
  }
  // Differences of runs are good to a few digits: no step lowers the sum, and a fraction of a standard error is left.
  const outcome = fit.outcome === 'stalled' && fit.offset < 4 * CLOSE ? 'converged' : fit.outcome;
  const plain = explains(first, rough, runs) ? valuesOf(asked, rough.parameters) : undefined;
  return reportFit({ request, model, hidden, plain, fit: { ...fit, outcome, iterations }, runs });
}

/** Does a fit leave noise alone in every capture? */
function explains(model: FitModel, fit: LeastSquaresFit, runs: BenchRuns): boolean {
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

const parameterOf = (name: UnknownName, range: UnknownRange, spread: number | undefined): FitParameter => {
  const scale = scaleOf(range);
  const prior = spread !== undefined && scale.logarithmic ? { centre: range.start, spread } : undefined;
  return { name, range, scale, prior };
};

type Solve = (model: FitModel, start: Float64Array, tolerance: number, most: number) => LeastSquaresFit;

/** Runs one stage of a fit; iterations are told through all stages. */
function solver(runs: BenchRuns, planned: number): Solve {
  let before = 0;
  return (model, start, tolerance, maxIterations) => {
    const names = model.parameters.map((p) => p.name);
    const predict = makePredict(model.base, names, model.prepared, runs);
    const problem = problemOf(model, start, predict);
    if (problem.residuals(start).some((v) => !Number.isFinite(v))) throw noStart(model.parameters);
    const onIteration = (done: number): void => runs.advance(Math.min(planned, before + done));
    const options = { maxIterations, tolerance, differenceStep: 1e-3, noise: 'known' as const, onIteration };
    const fit = leastSquares(problem, options);
    before += fit.iterations;
    return fit;
  };
}

/** The model with what is hidden and how it may depart, about the rough fit. */
function widen(
  model: FitModel,
  rough: LeastSquaresFit,
  hidden: readonly HiddenUnknown[],
  runs: BenchRuns,
): { readonly model: FitModel; readonly start: Float64Array } {
  const { base, parameters } = model;
  const more = hidden
    .filter((h) => h.exact)
    .map((h) => parameterOf(h.name, rangeOf(base, h.name) as UnknownRange, h.spread));
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
function shapesAt(
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
function inflationsOf(model: FitModel, fit: LeastSquaresFit, runs: BenchRuns): number[] {
  const left = residualsLeft(model, fit, runs);
  if (left === undefined) return [...model.inflation];
  const own = Math.ceil(model.parameters.length / model.prepared.length) + 2;
  return left.map((residuals) => {
    const inflation = inflationOf(residuals, own);
    return inflation > 1.5 ? 1 + (inflation - 1) * model.prepared.length : inflation;
  });
}

const noStart = (parameters: readonly FitParameter[]): FitError =>
  new FitError(
    '/ranges',
    `A fit must start where the model has a finite answer; it has none at ${parameters
      .map(({ name, range }) => `${name} = ${range.start} ${UNKNOWNS[name].unit}`)
      .join(', ')}: choose other starts.`,
  );

function refuse(request: FitRequest, base: Design): void {
  const { unknowns, captures } = request;
  if (unknowns.length > MOST_UNKNOWNS) {
    throw new FitError(
      '/unknowns',
      `A fit may have at most ${MOST_UNKNOWNS} unknowns; received ${unknowns.length}: choose those that the captures can tell.`,
    );
  }
  if (captures.length < 1 || captures.length > MOST_CAPTURES) {
    throw new FitError(
      '/captures',
      `A fit must have 1 to ${MOST_CAPTURES} captures; received ${captures.length}.`,
    );
  }
  unknowns.forEach((name, i) => {
    if (!Object.hasOwn(UNKNOWNS, name)) throw unknownName(`/unknowns/${i}`, name);
    const fields: readonly string[] = UNKNOWNS[name].fields;
    const rival = unknowns.find(
      (other, j) => j < i && UNKNOWNS[other].fields.some((f) => fields.includes(f)),
    );
    if (rival !== undefined) {
      throw new FitError(
        `/unknowns/${i}`,
        `Two unknowns must not move the same field; received ${rival} and ${name}, which both move ${fields.find((f) => UNKNOWNS[rival].fields.includes(f as never))}: leave one out.`,
      );
    }
    if (rangeOf(base, name) === undefined) {
      throw new FitError(
        `/unknowns/${i}`,
        `${name} must start from a finite number; the design has none at ${fields[0]}: write one there first.`,
      );
    }
  });
}
