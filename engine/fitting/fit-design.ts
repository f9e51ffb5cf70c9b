import { checkDesign } from '../check/check-design.ts';
import type { Design } from '../design/design.ts';
import { leastSquares } from '../numerics/levenberg-marquardt.ts';
import { simulate as realSimulate } from '../simulate/simulate.ts';
import type { Trace } from './align/trace-tools.ts';
import { createRuns, FitError, type BenchRuns } from './bench-runs.ts';
import { observedTrace } from './compare.ts';
import { extraPlaces, prepareCapture, residualsOf, shareOf, type Prepared } from './fit-captures.ts';
import { reportFit } from './fit-report.ts';
import type { FitRequest, FitResult } from './fit-result.ts';
import { planRanges, unknownName } from './unknown-ranges.ts';
import { UNKNOWNS, type UnknownName } from './unknown-table.ts';
import { rangeOf, withValues, type UnknownRange } from './unknowns.ts';

/** Unknowns of one fit at most. */
export const MOST_UNKNOWNS = 12;
export const MOST_CAPTURES = 8;
/** Iterations of a fit that states no limit. */
export const FIT_ITERATIONS = 40;

/**
 * Finds chosen unknowns of a design from one or several captures at once. Each capture has its own delay and
 * offset (and gain, if asked) beside the unknowns they share. Throws FitError, FitCancelled, LineUpError or
 * DesignError.
 */
export function fitDesign(request: FitRequest): FitResult {
  const { unknowns, maxIterations = FIT_ITERATIONS } = request;
  const base = checkDesign(request.design);
  refuse(request, base);
  const ranges = planRanges(request.design, base, unknowns, request.ranges);
  const runs = createRuns(request.simulate ?? realSimulate, maxIterations, request);
  const prepared = request.captures.map((capture) => prepareCapture(request.design, capture, runs));
  const predict = remember((values) => predictAll(base, unknowns, prepared, values, runs));
  const places = extraPlaces(prepared, unknowns.length);
  const samples = prepared.reduce((sum, c) => sum + c.trace.time.length, 0);
  const residuals = (p: Float64Array): Float64Array => {
    const traces = predict(p.slice(0, unknowns.length));
    // A step to where the model has no answer is refused.
    if (traces === undefined) return new Float64Array(samples).fill(NaN);
    const parts = prepared.map((c, k) => residualsOf(c, traces[k], p, places[k]));
    return Float64Array.from(parts.flatMap((part) => Array.from(part)));
  };
  const extras = prepared.flatMap(extrasOf);
  const start = Float64Array.from([...ranges, ...extras], (r) => r.start);
  if (residuals(start).some((v) => !Number.isFinite(v))) throw noStart(ranges, unknowns);
  const fit = leastSquares(
    {
      residuals,
      start,
      scale: [...ranges, ...extras].map((r) => r.typical),
      lower: [...ranges, ...extras].map((r) => r.low),
      upper: [...ranges, ...extras].map((r) => r.high),
    },
    { maxIterations, tolerance: 1e-4, differenceStep: 1e-3, onIteration: (done) => runs.advance(done) },
  );
  return reportFit({ request, base, ranges, prepared, places, fit, runs });
}

/** What the design with these values predicts of each capture; undefined when the model has no answer. */
function predictAll(
  base: Design,
  unknowns: readonly UnknownName[],
  prepared: readonly Prepared[],
  values: Float64Array,
  runs: BenchRuns,
): readonly Trace[] | undefined {
  const traces: Trace[] = [];
  for (const c of prepared) {
    const design = withValues(c.start, unknowns, shareOf(c, base, unknowns, values));
    const run = runs.run(design, { until: c.until });
    if (run === undefined) return undefined;
    traces.push(observedTrace(run, c.observed));
  }
  return traces;
}

/** Shift, offset and, when free, gain of one capture. */
const extrasOf = (c: Prepared): UnknownRange[] => {
  const free = { start: 0, low: -Infinity, high: Infinity };
  const gain = { ...free, start: c.line.gain, typical: Math.abs(c.line.gain) };
  return [{ ...free, typical: 1e-9 }, { ...free, typical: c.sigma }, ...(c.extras === 3 ? [gain] : [])];
};

const noStart = (ranges: readonly UnknownRange[], unknowns: readonly UnknownName[]): FitError =>
  new FitError(
    '/ranges',
    `A fit must start where the model has a finite answer; it has none at ${unknowns
      .map((name, i) => `${name} = ${ranges[i].start} ${UNKNOWNS[name].unit}`)
      .join(', ')}: choose other starts.`,
  );

type Predict = (values: Float64Array) => readonly Trace[] | undefined;

/** The last few answers: a step of a delay or an offset needs no new run. */
function remember(compute: Predict): Predict {
  const kept = new Map<string, readonly Trace[] | undefined>();
  return (values) => {
    const key = values.join(',');
    if (kept.has(key)) return kept.get(key);
    const fresh = compute(values);
    if (kept.size > 4) kept.delete(kept.keys().next().value as string);
    kept.set(key, fresh);
    return fresh;
  };
}

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
