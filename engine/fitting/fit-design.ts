import { checkDesign } from '../check-design.ts';
import type { Design } from '../design.ts';
import { leastSquares } from '../numerics/levenberg-marquardt.ts';
import type { FitOutcome, LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { studentQuantile } from '../numerics/statistics.ts';
import type { SimulateOptions, Simulation } from '../result.ts';
import { simulate as realSimulate } from '../simulate.ts';
import { applyPatches, valueAt as jsonAt } from '../studies/json-patch.ts';
import type { Json, Patch } from '../studies/study-shape.ts';
import { compareCapture, neighbours, observedTrace } from './compare.ts';
import type { Comparison, Observed } from './compare.ts';
import { describeFit } from './describe-fit.ts';
import { lineUp } from './line-up.ts';
import type { LineUp } from './line-up.ts';
import { cutTrace, thinTrace, traceNoise, valueAt } from './trace-tools.ts';
import type { Trace } from './trace-tools.ts';
import { UNKNOWNS, rangeOf, withValues, writeValues } from './unknowns.ts';
import type { UnknownName } from './unknowns.ts';

export type Simulate = (design: Design, options?: SimulateOptions) => Simulation;

/** One capture and how its conditions differ from the design. */
export interface FitCapture {
  readonly label: string;
  /** s and V, as read. */
  readonly trace: Trace;
  readonly observed?: Observed;
  /** Changes of the design file under which it was taken: another bit, other currents, inhibited or not. */
  readonly changes?: readonly Patch[];
  /** 'fixed' (default): the probe's gain is known, only its polarity is found; 'free': it is fitted. */
  readonly probeGain?: 'fixed' | 'free';
}

export interface FitRequest {
  /** The design file to start from. */
  readonly design: Json;
  readonly captures: readonly FitCapture[];
  readonly unknowns: readonly UnknownName[];
  readonly maxIterations?: number;
  readonly simulate?: Simulate;
  readonly cancelled?: () => boolean;
  /** Called after each run with the number of runs so far. */
  readonly onRun?: (runs: number) => void;
}

export interface FittedUnknown {
  readonly name: UnknownName;
  readonly meaning: string;
  readonly unit: string;
  readonly start: number;
  readonly value: number;
  /** SI; NaN when held at a bound, Infinity when the captures say nothing about it. */
  readonly standardError: number;
  /** 95 % interval from Student's t, widened for neighbouring differences that are alike. */
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
  readonly captures: readonly {
    readonly label: string;
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

/** A fit that cannot be tried: one sentence. */
export class FitError extends Error {
  override readonly name = 'FitError';
  readonly code = 'fit';
  readonly field: string;
  constructor(field: string, message: string) {
    super(message);
    this.field = field;
  }
}

/** Samples of one capture that enter the fit; more are averaged. */
const MOST_SAMPLES = 3000;
/** Unknowns of one fit at most. */
export const MOST_UNKNOWNS = 12;
export const MOST_CAPTURES = 8;

interface Prepared {
  readonly capture: FitCapture;
  readonly observed: Observed;
  readonly start: Design;
  readonly line: LineUp;
  readonly trace: Trace;
  readonly sigma: number;
  /** Extra parameters: shift in s, offset in V, and the gain when free. */
  readonly extras: 2 | 3;
}

/**
 * Finds chosen unknowns of a design from one or several captures at once. Each capture has its own delay and
 * offset (and gain, if asked) beside the unknowns they share. Throws FitError or DesignError.
 */
export function fitDesign(request: FitRequest): FitResult {
  const { unknowns } = request;
  const base = checkDesign(request.design);
  refuse(request, base);
  const simulate = request.simulate ?? realSimulate;
  let runs = 0;
  const run = (design: Design, contributions = false): Simulation => {
    const result = simulate(design, { contributions, estimateError: false });
    runs++;
    request.onRun?.(runs);
    return result;
  };
  const prepared = request.captures.map((capture) => prepare(request, capture, run));
  const ranges = unknowns.map((name) => rangeOf(base, name) as NonNullable<ReturnType<typeof rangeOf>>);
  const predict = remember((values: Float64Array) =>
    prepared.map((p) =>
      observedTrace(run(withValues(p.start, unknowns, shareOf(p, base, unknowns, values))), p.observed),
    ),
  );

  const places = extraPlaces(prepared, unknowns.length);
  const residuals = (p: Float64Array): Float64Array => {
    const traces = predict(p.slice(0, unknowns.length));
    const parts = prepared.map((c, k) => residualsOf(c, traces[k], p, places[k]));
    return Float64Array.from(parts.flatMap((part) => Array.from(part)));
  };
  const extras = prepared.flatMap((c) => [
    { start: 0, scale: 1e-9 },
    { start: 0, scale: c.sigma },
    ...(c.extras === 3 ? [{ start: c.line.gain, scale: Math.abs(c.line.gain) }] : []),
  ]);
  const fit = leastSquares(
    {
      residuals,
      start: [...ranges.map((r) => r.start), ...extras.map((e) => e.start)],
      scale: [...ranges.map((r) => r.typical), ...extras.map((e) => e.scale)],
      lower: [...ranges.map((r) => r.low), ...extras.map(() => -Infinity)],
      upper: [...ranges.map((r) => r.high), ...extras.map(() => Infinity)],
    },
    {
      maxIterations: request.maxIterations ?? 40,
      tolerance: 1e-4,
      differenceStep: 1e-3,
      cancelled: request.cancelled,
    },
  );
  return report(request, base, prepared, places, fit, run, () => runs);
}

/** Where each capture's extra parameters begin. */
function extraPlaces(prepared: readonly Prepared[], first: number): number[] {
  let at = first;
  return prepared.map((c) => {
    const place = at;
    at += c.extras;
    return place;
  });
}

/** A capture under other conditions keeps its ratio to the base: half the drive stays half the drive. */
function shareOf(
  p: Prepared,
  base: Design,
  names: readonly UnknownName[],
  values: Float64Array,
): Float64Array {
  return values.map((value, i) => {
    const [own, shared] = [rangeOf(p.start, names[i])?.start ?? 0, rangeOf(base, names[i])?.start ?? 0];
    return shared === 0 ? value : (value * own) / shared;
  });
}

function residualsOf(c: Prepared, model: Trace, p: Float64Array, at: number): Float64Array {
  const gain = c.extras === 3 ? p[at + 2] : c.line.gain;
  const end = model.time[model.time.length - 1];
  return Float64Array.from(c.trace.time, (t, i) => {
    const predicted = valueAt(model, Math.min(end, t - c.line.delay - p[at]));
    return (gain * predicted + c.line.offset + p[at + 1] - c.trace.value[i]) / c.sigma;
  });
}

function prepare(request: FitRequest, capture: FitCapture, run: (d: Design) => Simulation): Prepared {
  const start = checkDesign(applyPatches(request.design, capture.changes ?? []));
  const observed = capture.observed ?? 'sense';
  const first = observedTrace(run(start), observed);
  const free = capture.probeGain === 'free';
  const line = lineUp(first, capture.trace, { gain: free });
  const end = first.time[first.time.length - 1] + line.delay;
  const kept = thinTrace(cutTrace(capture.trace, -Infinity, end), MOST_SAMPLES);
  const noise = traceNoise(capture.trace.value).sigma;
  const peak = kept.value.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
  // A capture without any noise is computed, not measured; a millionth of its peak stands in.
  const sigma = Math.max(noise / Math.sqrt(kept.block), 1e-6 * peak);
  return { capture, observed, start, line, trace: kept, sigma, extras: free ? 3 : 2 };
}

/** The last few answers: a step of a delay or an offset needs no new run. */
function remember(
  compute: (values: Float64Array) => readonly Trace[],
): (values: Float64Array) => readonly Trace[] {
  const kept = new Map<string, readonly Trace[]>();
  return (values) => {
    const key = values.join(',');
    const found = kept.get(key);
    if (found) return found;
    const fresh = compute(values);
    if (kept.size > 4) kept.delete(kept.keys().next().value as string);
    kept.set(key, fresh);
    return fresh;
  };
}

function report(
  request: FitRequest,
  base: Design,
  prepared: readonly Prepared[],
  places: readonly number[],
  fit: LeastSquaresFit,
  run: (d: Design, contributions?: boolean) => Simulation,
  runsSoFar: () => number,
): FitResult {
  const { unknowns } = request;
  const n = fit.parameters.length;
  const values = fit.parameters.slice(0, unknowns.length);
  // Neighbouring differences that are alike carry less than their number: widen by sqrt((1 + r)/(1 - r)).
  const alike = Math.min(0.98, Math.max(0, neighbours(fit.residuals)));
  const quantile =
    studentQuantile(0.975, Math.max(1, fit.degreesOfFreedom)) * Math.sqrt((1 + alike) / (1 - alike));
  const fitted = unknowns.map((name, i): FittedUnknown => {
    const standardError = fit.standardErrors[i];
    const half = quantile * standardError;
    return {
      name,
      meaning: UNKNOWNS[name].meaning,
      unit: UNKNOWNS[name].unit,
      start: rangeOf(base, name)?.start ?? NaN,
      value: values[i],
      standardError,
      interval: { low: values[i] - half, high: values[i] + half },
      atBound: fit.atBound[i],
    };
  });
  const captures = prepared.map((c, k) => {
    const at = places[k];
    const gain = c.extras === 3 ? fit.parameters[at + 2] : c.line.gain;
    const line: LineUp = {
      ...c.line,
      delay: c.line.delay + fit.parameters[at],
      offset: c.line.offset + fit.parameters[at + 1],
      gain,
      polarity: gain < 0 ? -1 : 1,
      outcome: fit.outcome,
    };
    const last = run(withValues(c.start, unknowns, shareOf(c, base, unknowns, values)), true);
    return {
      label: c.capture.label,
      lineUp: line,
      comparison: compareCapture(last, c.capture.trace, line, c.observed),
    };
  });
  const file = writeValues(request.design, base, unknowns, values);
  const good = captures.every((c) => c.comparison.verdict === 'noise alone');
  const described = describeFit(
    fit,
    fitted,
    captures.map((c) => ({ label: c.label, statement: c.comparison.statement })),
    good,
  );
  const design = applyPatches(file, [
    { path: '/note', value: provenance(request, fitted, good, fit.outcome) },
  ]);
  const problem = problemOf(design);
  return {
    outcome: fit.outcome,
    statements: problem === undefined ? described.statements : [...described.statements, problem],
    unknowns: fitted,
    correlations: unknowns.map((_, i) => unknowns.map((_, j) => fit.correlations[i * n + j])),
    undetermined: described.undetermined,
    captures,
    reducedChiSquare: fit.degreesOfFreedom > 0 ? fit.cost / fit.degreesOfFreedom : NaN,
    good,
    design,
    iterations: fit.iterations,
    runs: runsSoFar(),
  };
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

function refuse(request: FitRequest, base: Design): void {
  const { unknowns, captures } = request;
  if (unknowns.length < 1 || unknowns.length > MOST_UNKNOWNS) {
    throw new FitError(
      '/unknowns',
      `A fit must have 1 to ${MOST_UNKNOWNS} unknowns; received ${unknowns.length}: choose those that the captures can tell.`,
    );
  }
  if (captures.length < 1 || captures.length > MOST_CAPTURES) {
    throw new FitError(
      '/captures',
      `A fit must have 1 to ${MOST_CAPTURES} captures; received ${captures.length}.`,
    );
  }
  unknowns.forEach((name, i) => {
    if (!Object.hasOwn(UNKNOWNS, name)) {
      throw new FitError(
        `/unknowns/${i}`,
        `An unknown must be one of ${Object.keys(UNKNOWNS).join(', ')}; received ${JSON.stringify(String(name).slice(0, 40))}.`,
      );
    }
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
