import type { Design } from '../design/design.ts';
import type { LeastSquaresProblem } from '../numerics/levenberg-marquardt.ts';
import { throughPole, type Trace } from './align/trace-tools.ts';
import { residualsOf, type Prepared } from './fit-captures.ts';
import { bandwidthAt, extraBeliefs, extraBounds, extraPlaces, lineOf } from './fit-extras.ts';
import type { Predict } from './fit-predict.ts';
import type { CaptureShapes } from './fit-shapes.ts';
import type { Belief } from './knowledge/beliefs.ts';
import { FLAT_TOPPED, LEANS, reshapeBell } from './knowledge/discrepancy.ts';
import type { Information } from './knowledge/information.ts';
import { inside, outside, type Scale } from './knowledge/scale.ts';
import type { UnknownName } from './unknown-table.ts';
import type { UnknownRange } from './unknowns.ts';

/** A parameter that is followed exactly: asked for, or hidden and uncertain. */
export interface FitParameter {
  readonly name: UnknownName;
  readonly range: UnknownRange;
  readonly scale: Scale;
  /** Where it was believed to be before the captures spoke, and the standard deviation of its logarithm. */
  readonly prior: Belief | undefined;
}

export interface FitModel {
  readonly base: Design;
  readonly parameters: readonly FitParameter[];
  /** Codes of departures, each with one coefficient of standard deviation 1. */
  readonly departures: readonly string[];
  readonly prepared: readonly Prepared[];
  /** Of each capture. */
  readonly shapes: readonly CaptureShapes[];
  /** How many of the parameters, from the first on, were asked for. */
  readonly asked: number;
  /** Of each capture: how much it tells. */
  readonly told: readonly Information[];
}

/** The places of a parameter vector: parameters, departures, then what each capture has of its own. */
export interface Layout {
  readonly parameters: number;
  readonly departures: number;
  /** Where each capture's extras begin. */
  readonly places: readonly number[];
}

export const layoutOf = ({ parameters, departures, prepared }: FitModel): Layout => ({
  parameters: parameters.length,
  departures: departures.length,
  places: extraPlaces(prepared, parameters.length + departures.length),
});

/** The least-squares problem of a model, started at `start`. `predict` remembers runs between calls. */
export function problemOf(model: FitModel, start: Float64Array, predict: Predict): LeastSquaresProblem {
  const { parameters, departures, prepared } = model;
  const layout = layoutOf(model);
  const samples = prepared.reduce((sum, c) => sum + c.trace.time.length, 0);
  const beliefs = parameters.flatMap((parameter, i) =>
    parameter.prior ? [{ ...parameter.prior, i, parameter }] : [],
  );
  const ofInstruments = extraBeliefs(prepared, layout.places);
  const rows = samples + beliefs.length + departures.length + ofInstruments.length;
  const residuals = (p: Float64Array): Float64Array => {
    const out = new Float64Array(rows);
    const traces = predict(valuesOf(parameters, p));
    // A step to where the model has no answer is refused.
    if (traces === undefined) return out.fill(NaN);
    let at = 0;
    prepared.forEach((_, k) => {
      const part = captureResiduals(model, traces[k], p, layout, k);
      const weight = 1 / Math.sqrt(model.told[k]!.inflation);
      for (let i = 0; i < part.length; i++) out[at++] = part[i] * weight;
    });
    for (const { centre, spread, i, parameter } of beliefs)
      out[at++] = (p[i] - inside(parameter.scale, centre)) / spread;
    for (let j = 0; j < departures.length; j++) out[at++] = p[parameters.length + j];
    for (const belief of ofInstruments) out[at++] = p[belief.at] / belief.spread;
    return out;
  };
  const extras = prepared.flatMap(extraBounds);
  const free = { low: -Infinity, high: Infinity };
  const all = [
    ...parameters.map(({ scale, range }) => ({
      low: inside(scale, range.low),
      high: inside(scale, range.high),
      typical: scale.logarithmic ? 1 : range.typical,
    })),
    ...departures.map(() => ({ ...free, typical: 1 })),
    ...extras,
  ];
  return {
    residuals,
    start,
    scale: all.map((r) => r.typical),
    lower: all.map((r) => r.low),
    upper: all.map((r) => r.high),
  };
}

/** SI values of the parameters in a vector. */
export const valuesOf = (parameters: readonly FitParameter[], p: Float64Array): Float64Array =>
  Float64Array.from(parameters, ({ scale }, i) => outside(scale, p[i]));

/** Residuals of one capture in standard deviations of its noise, its departures added. */
export function captureResiduals(
  { prepared, shapes, departures }: FitModel,
  trace: Trace,
  p: Float64Array,
  layout: Layout,
  k: number,
): Float64Array {
  const value = Float64Array.from(trace.value);
  const add = (shape: ArrayLike<number>, c: number): void => {
    const n = Math.min(value.length, shape.length);
    for (let i = 0; i < n; i++) value[i] += c * shape[i];
  };
  const { linear, bell } = shapes[k];
  departures.forEach((code, j) => {
    const shape = linear.get(code);
    const c = p[layout.parameters + j];
    if (shape !== undefined && c !== 0) add(shape.value, c);
  });
  const [lean, flat] = [LEANS, FLAT_TOPPED].map((code) => {
    const j = departures.indexOf(code);
    return j < 0 ? 0 : p[layout.parameters + j];
  });
  if (bell !== undefined && (lean !== 0 || flat !== 0)) add(reshapeBell(bell, lean, flat), 1);
  const seen = throughPole({ time: trace.time, value }, bandwidthAt(prepared[k], p, layout.places[k]));
  return residualsOf(prepared[k], seen, lineOf(prepared[k], p, layout.places[k]));
}
