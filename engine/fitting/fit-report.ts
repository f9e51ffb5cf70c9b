import { applyPatches, valueAt as jsonAt, type Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import type { Design } from '../design/design.ts';
import { describeCurvature } from '../numerics/fit-curvature.ts';
import type { FitOutcome, LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { mean, studentQuantile } from '../numerics/statistics.ts';
import type { LineUp } from './align/line-up.ts';
import { FitError, type BenchRuns } from './bench-runs.ts';
import { compareCapture } from './compare.ts';
import { shareOf, type Prepared } from './fit-captures.ts';
import { bandwidthAt, extraPlace, lineOf } from './fit-extras.ts';
import { layoutOf, valuesOf, type FitModel } from './fit-problem.ts';
import type { FitRequest, FitResult, FittedUnknown, InstrumentFound } from './fit-result.ts';
import { rangeCode } from './fit-shapes.ts';
import { describeFit, instrumentWords } from './fit-words.ts';
import type { HiddenUnknown } from './knowledge/core-range.ts';
import { outside, slopeOf } from './knowledge/scale.ts';
import { UNKNOWNS, type UnknownName } from './unknown-table.ts';
import { rangeOf, withValues, writeValues } from './unknowns.ts';

interface Ended {
  readonly request: FitRequest;
  readonly model: FitModel;
  readonly hidden: readonly HiddenUnknown[];
  /**
   * Values of the asked unknowns with all else as the design says, where that leaves noise alone: what was not asked
   * for then stays as it was, and only the intervals know that it may be otherwise.
   */
  readonly plain: Float64Array | undefined;
  /** As counted inside the fit, where the model was not let depart: asked unknowns, then extras; undefined: it was not let at all. */
  readonly rough: Float64Array | undefined;
  readonly fit: LeastSquaresFit;
  readonly runs: BenchRuns;
}

/** What a fit found, with what stands behind each number, and the new design file. */
export function reportFit(ended: Ended): FitResult {
  const { request, model, fit, runs } = ended;
  const { unknowns } = request;
  const n = fit.parameters.length;
  const fitted = unknowns.map((_, i) => fittedUnknown(ended, i));
  const { names, values } = finalValues(ended);
  const layout = layoutOf(model);
  const captures = model.prepared.map((c, k) => {
    const line: LineUp = { ...lineOf(c, fit.parameters, layout.places[k]), outcome: fit.outcome };
    const design = withValues(c.start, names, shareOf(c, model.base, names, values));
    const last = runs.run(design, { contributions: true, until: c.until });
    if (last === undefined)
      throw new FitError('/unknowns', 'The fitted values give no finite prediction; narrow the bounds.');
    return {
      label: c.capture.label,
      lineUp: line,
      comparison: compareCapture(
        last,
        c.capture.trace,
        line,
        c.observed,
        bandwidthAt(c, fit.parameters, layout.places[k]),
      ),
      instrument: instrumentOf(c, ended, layout.places[k]),
    };
  });
  const file = writeValues(request.design, model.base, names, values);
  const good = captures.every((c) => c.comparison.verdict === 'noise alone');
  const described = describeFit(
    fit,
    fitted,
    captures.map(({ label, comparison, lineUp }) => ({
      label,
      statement: comparison.statement,
      lineUp,
    })),
    good,
  );
  const note = { path: '/note', value: provenance(request, fitted, good, fit.outcome) };
  const design = unknowns.length === 0 ? request.design : applyPatches(file, [note]);
  const problem = problemOf(design);
  const correlations = unknowns.map((_, i) => unknowns.map((_, j) => fit.correlations[i * n + j]));
  return {
    outcome: fit.outcome,
    statements: [
      ...described.statements,
      ...captures.flatMap(({ label, instrument }) =>
        instrument.map((found) => instrumentWords(label, found)),
      ),
      ...togetherWords(fitted, correlations),
      ...(problem === undefined ? [] : [problem]),
    ],
    unknowns: fitted,
    correlations,
    undetermined: [...described.undetermined, ...untold(model, fit, fitted)],
    captures,
    reducedChiSquare: mean(captures.map((c) => c.comparison.reducedChiSquare)),
    good,
    design,
    iterations: fit.iterations,
    runs: runs.count,
  };
}

/** Standard errors to the end of a 95 % interval: what is left independent after inflation decides how far Student's t reaches. */
function quantileOf({ model: { prepared, inflation }, fit }: Ended): number {
  const samples = prepared.reduce((sum, c, k) => sum + c.trace.time.length / inflation[k], 0);
  return studentQuantile(0.975, Math.max(2, samples - fit.parameters.length));
}

/** Standard deviation of the logarithm of a bandwidth, whatever the captures say: no instrument is one pole (our own judgement). */
const NOT_ONE_POLE = 0.03;

/** Gain and bandwidth of one capture's instrument, where they were to be found. */
function instrumentOf(c: Prepared, ended: Ended, at: number): InstrumentFound[] {
  const { fit, rough, model, request } = ended;
  const before = model.parameters.length + model.departures.length - request.unknowns.length;
  return (['gain', 'bandwidth'] as const).flatMap((what) => {
    const place = extraPlace(c, what, at);
    if (place < 0) return [];
    const found = fit.parameters[place];
    const stray = rough === undefined ? 0 : (found - rough[place - before]) / 2;
    const more = what === 'gain' ? 0 : NOT_ONE_POLE;
    const half = quantileOf(ended) * Math.hypot(fit.standardErrors[place], stray, more);
    const value = (inner: number): number => (what === 'gain' ? inner : c.bandwidth * Math.exp(inner));
    return [{ what, value: value(found), low: value(found - half), high: value(found + half) }];
  });
}

function fittedUnknown(ended: Ended, i: number): FittedUnknown {
  const { model, fit, plain, rough } = ended;
  const { name, range, scale } = model.parameters[i];
  const quantile = quantileOf(ended);
  const inner = plain === undefined || rough === undefined ? fit.parameters[i] : rough[i];
  const half = quantile * Math.hypot(errorOf(fit, i), strayOf(rough, fit, i));
  const value = plain?.[i] ?? outside(scale, inner);
  const low = outside(scale, inner - half);
  return {
    name,
    meaning: UNKNOWNS[name].meaning,
    unit: UNKNOWNS[name].unit,
    start: range.start,
    bounds: { low: range.low, high: range.high },
    value,
    standardError: fit.standardErrors[i] * slopeOf(scale, value),
    interval: { low: range.low === 0 ? Math.max(0, low) : low, high: outside(scale, inner + half) },
    atBound: fit.atBound[i],
  };
}

/**
 * By how much an unknown hangs on what the model may depart by, as a standard deviation: half of what it moved by when
 * the model was let depart. Departures are few and simple, and a build may depart otherwise.
 */
const strayOf = (rough: Float64Array | undefined, fit: LeastSquaresFit, i: number): number =>
  rough === undefined ? 0 : (fit.parameters[i] - rough[i]) / 2;

/** Of an unknown held at a bound: how far from it the captures would let it go. */
function errorOf(fit: LeastSquaresFit, i: number): number {
  const own = fit.standardErrors[i];
  if (!Number.isNaN(own)) return own;
  const n = fit.parameters.length;
  const all = describeCurvature({
    jacobian: fit.jacobian,
    free: Array.from({ length: n }, (_, j) => j),
    scale: Float64Array.from(fit.parameters, (v) => Math.abs(v) || 1),
    parameters: n,
    samples: fit.residuals.length,
    cost: fit.cost,
    noise: 'known',
  });
  return all.standardErrors[i];
}

/** Part of what was open before that may still be open of a value that the captures have settled. */
const SETTLED = 0.5;

/**
 * What the new design holds: the asked unknowns, and of what was hidden of the core only what the captures have settled,
 * so that no value changes of which they say little.
 */
function finalValues({ model, fit, hidden, plain, request }: Ended): {
  names: UnknownName[];
  values: number[];
} {
  if (plain !== undefined) return { names: [...request.unknowns], values: [...plain] };
  const { parameters, departures, base } = model;
  const asked = request.unknowns.length;
  const found = valuesOf(parameters, fit.parameters);
  const names = [...request.unknowns];
  const values = [...found.subarray(0, asked)];
  const settles = (place: number, spread: number): boolean => fit.standardErrors[place] < SETTLED * spread;
  parameters.slice(asked).forEach(({ name, prior }, i) => {
    if (prior === undefined || !settles(asked + i, prior.spread)) return;
    names.push(name);
    values.push(found[asked + i]);
  });
  for (const { name, spread, exact } of hidden) {
    const j = exact ? -1 : departures.indexOf(rangeCode(name));
    const start = rangeOf(base, name);
    if (j < 0 || start === undefined || !settles(parameters.length + j, 1)) continue;
    const moved = Math.exp(Math.max(-1, Math.min(1, fit.parameters[parameters.length + j])) * spread);
    names.push(name);
    values.push(Math.min(start.high, Math.max(start.low, start.start * moved)));
  }
  return valid(base, names, values, asked);
}

/** Hidden values that would make no valid design stay as they were. */
function valid(
  base: Design,
  names: UnknownName[],
  values: number[],
  asked: number,
): { names: UnknownName[]; values: number[] } {
  const p = withValues(base, names, values).core.parameters;
  const sound =
    p.coerciveDrive >= 6 * p.staticKneeWidth &&
    p.dynamicThreshold >= 10 * p.dynamicKneeWidth &&
    p.squareness < 0.999;
  return sound ? { names, values } : { names: names.slice(0, asked), values: values.slice(0, asked) };
}

/** Asked unknowns whose interval is little narrower than what was believed before: the captures hardly tell them. */
function untold(model: FitModel, fit: LeastSquaresFit, fitted: readonly FittedUnknown[]): string[] {
  return fitted.flatMap(({ name }, i) => {
    const { prior } = model.parameters[i];
    return prior !== undefined && fit.standardErrors[i] > 0.8 * prior.spread
      ? [`The captures say hardly anything about ${name}: its interval is the range that was assumed for it.`]
      : [];
  });
}

/** Unknowns that trade against one another. */
function togetherWords(
  fitted: readonly FittedUnknown[],
  correlations: readonly (readonly number[])[],
): string[] {
  return fitted.flatMap((a, i) =>
    fitted.slice(i + 1).flatMap((b, k) => {
      const r = correlations[i][i + 1 + k];
      return Math.abs(r) > 0.9
        ? [
            `${a.name} and ${b.name} ${r > 0 ? 'rise together' : 'trade against one another'} (correlation ${r.toFixed(2)}): their intervals do not hold apart from one another.`,
          ]
        : [];
    }),
  );
}

function problemOf(design: Json): string | undefined {
  try {
    checkDesign(design);
    return undefined;
  } catch (error) {
    return `The fitted values break a rule of the design: ${(error as Error).message}`;
  }
}

/** What the new design's note remembers; the old note is kept in front as far as there is room. */
function provenance(
  request: FitRequest,
  fitted: readonly FittedUnknown[],
  good: boolean,
  outcome: FitOutcome,
): string {
  const name = jsonAt(request.design, '/name');
  const note = jsonAt(request.design, '/note');
  const list = fitted.map((u) => u.name).join(', ');
  const from = request.captures
    .map((c) => `"${c.label.slice(0, 60)}" (${c.trace.time.length} samples)`)
    .join(', ');
  const text = `Fitted: ${list}; from ${from}; starting from "${typeof name === 'string' ? name : 'untitled'}"; ${outcome}, ${
    good ? 'noise alone explains what is left' : 'more than noise is left'
  }.`;
  const old = typeof note === 'string' && note !== '' ? `${note} ` : '';
  return `${old.slice(0, 1990 - text.length)}${text}`;
}
