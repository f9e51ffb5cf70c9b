import { describeCurvature } from '../numerics/fit-curvature.ts';
import type { LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { studentQuantile } from '../numerics/statistics.ts';
import type { EndedFit } from './ended-fit.ts';
import type { Prepared } from './fit-captures.ts';
import { extraPlace } from './fit-extras.ts';
import type { FittedUnknown, InstrumentFound } from './fit-result.ts';
import { outside, slopeOf } from './knowledge/scale.ts';
import { UNKNOWNS } from './unknown-table.ts';

/** Standard errors to the end of a 95 % interval: how many stretches are independent decides how far Student's t reaches. */
function quantileOf({ model: { told, asked } }: EndedFit): number {
  const independent = told.reduce((sum, { stretches }) => sum + stretches, 0);
  return studentQuantile(0.975, Math.max(2, independent - asked));
}

/** Standard deviation of the logarithm of a bandwidth, whatever the captures say: no instrument is one pole (our own judgement). */
const NOT_ONE_POLE = 0.03;

/** Gain and bandwidth of one capture's instrument, where they were to be found. */
export function instrumentOf(c: Prepared, ended: EndedFit, at: number): InstrumentFound[] {
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

export function fittedUnknown(ended: EndedFit, i: number): FittedUnknown {
  const { model, fit, plain, rough } = ended;
  const { name, range, scale, prior } = model.parameters[i];
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
    before: prior && prior.spread * slopeOf(scale, value),
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

/**
 * Of the asked unknowns, row by row, as far apart as their intervals say: what they hang on departures moves them together,
 * most along what the captures tell badly anyway.
 */
export function correlationsOf({ request: { unknowns }, fit, rough }: EndedFit): number[][] {
  const n = fit.parameters.length;
  const error = unknowns.map((_, i) => errorOf(fit, i));
  const stray = unknowns.map((_, i) => strayOf(rough, fit, i));
  return unknowns.map((_, i) =>
    unknowns.map((_, j) => {
      if (i === j) return 1;
      const own = fit.correlations[i * n + j]! * error[i]! * error[j]!;
      return (
        (own + stray[i]! * stray[j]!) / (Math.hypot(error[i]!, stray[i]!) * Math.hypot(error[j]!, stray[j]!))
      );
    }),
  );
}

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
