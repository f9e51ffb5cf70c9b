import { checkDesign } from '../check/check-design.ts';
import { simulate as realSimulate } from '../simulate/simulate.ts';
import { createRuns } from './bench-runs.ts';
import { prepareCapture } from './fit-captures.ts';
import { extraStarts } from './fit-extras.ts';
import { valuesOf, type FitModel } from './fit-problem.ts';
import { reportFit } from './fit-report.ts';
import type { FitRequest, FitResult } from './fit-result.ts';
import { explains, toldBy, parameterOf, shapesAt, solver, widen } from './fit-stages.ts';
import { believedOf, hiddenUnknowns } from './knowledge/beliefs.ts';
import { inside } from './knowledge/scale.ts';
import { refuseFit } from './refuse-fit.ts';
import { planRanges } from './unknown-ranges.ts';

/** Iterations of a fit that states no limit. */
export const FIT_ITERATIONS = 40;

/** Stages in which the model is let depart, at most, and iterations of all but the last of them. */
export const FIT_STAGES = 4;
export const STAGE_ITERATIONS = 8;
/** Where noise alone is left without it. */
const PLAIN_STAGES = 1;
/** Standard errors by which the minimum may still be off. */
const CLOSE = 0.05;
/** The change of an inflation's logarithm that is within its own error. */
const SETTLED = 0.3;

/**
 * Finds chosen unknowns of a design from one or several captures at once. Each capture has its own delay and offset
 * (and gain, if asked) beside the unknowns they share. What is not asked for and yet not known of the core, how
 * the model may depart, and what is alike in neighbouring differences widen the intervals.
 * Throws FitError, FitCancelled, LineUpError or DesignError.
 */
export function fitDesign(request: FitRequest): FitResult {
  const { unknowns, maxIterations = FIT_ITERATIONS } = request;
  const base = checkDesign(request.design);
  refuseFit(request, base);
  const ranges = planRanges(request.design, base, unknowns, request.ranges);
  const runs = createRuns(request.simulate ?? realSimulate, maxIterations, request);
  const prepared = request.captures.map((capture) => prepareCapture(request.design, capture, runs));
  const asked = unknowns.map((name, i) => parameterOf(name, ranges[i], believedOf(base, name, true)));
  const first: FitModel = {
    base,
    parameters: asked,
    departures: [],
    prepared,
    shapes: prepared.map(() => ({ linear: new Map(), bell: undefined })),
    asked: asked.length,
    told: prepared.map(({ trace }) => ({ inflation: 1, stretches: trace.time.length })),
  };
  const start = Float64Array.from([
    ...asked.map(({ range, scale }) => inside(scale, range.start)),
    ...prepared.flatMap(extraStarts),
  ]);
  const solve = solver(runs, maxIterations);
  const rough = solve(first, start, CLOSE, maxIterations);
  if (unknowns.length === 0 || rough.outcome === 'singular')
    return reportFit({
      request,
      model: first,
      hidden: [],
      plain: undefined,
      rough: undefined,
      fit: rough,
      runs,
    });
  const hidden = hiddenUnknowns(base, unknowns);
  // Where that leaves noise alone, its values stand, and only the intervals ask what else might be.
  const plain = explains(first, rough, runs) ? valuesOf(asked, rough.parameters) : undefined;
  const wide = widen(first, rough, hidden, runs);
  // Each stage trusts the captures as far as the one before it could explain them, so that no departure runs away.
  let model: FitModel = { ...wide.model, told: toldBy(first, rough, runs) };
  let fit = solve(model, wide.start, 0.2, STAGE_ITERATIONS);
  let iterations = rough.iterations + fit.iterations;
  const stages = plain === undefined ? FIT_STAGES : PLAIN_STAGES;
  for (let stage = 0; stage < stages; stage++) {
    const told = toldBy(model, fit, runs);
    const settled =
      stage > 0 &&
      told.every(({ inflation }, k) => Math.abs(Math.log(inflation / model.told[k]!.inflation)) < SETTLED);
    if (settled && fit.outcome === 'converged') break;
    // The shapes belong to where the fit stands: taken anew where it has come to.
    model = { ...model, told, shapes: shapesAt(model, fit, hidden, runs) };
    fit = solve(model, fit.parameters, CLOSE, stage === FIT_STAGES - 1 ? maxIterations : STAGE_ITERATIONS);
    iterations += fit.iterations;
  }
  // Differences of runs are good to a few digits: no step lowers the sum, and a fraction of a standard error is left.
  const { outcome: ended, offset } = plain === undefined ? fit : rough;
  const outcome = ended === 'stalled' && offset < 4 * CLOSE ? 'converged' : ended;
  return reportFit({
    request,
    model,
    hidden,
    plain,
    rough: rough.parameters,
    fit: { ...fit, outcome, iterations },
    runs,
  });
}
