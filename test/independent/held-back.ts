import { applyPatches } from '../../engine/base/json-patch.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { createRuns } from '../../engine/fitting/bench-runs.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import { shapesOf } from '../../engine/fitting/fit-shapes.ts';
import { FLAT_TOPPED, LEANS, reshapeBell } from '../../engine/fitting/knowledge/discrepancy.ts';
import { withValues } from '../../engine/fitting/unknowns.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { drivenBy, HELD_BACK, type OffFamily, heldBackPeak } from './off-family.ts';

const UNTIL = 500e-9;
/** Relative step of a difference. */
const STEP = 0.01;

/**
 * V: the peak of a ONE at the drive that was held back, as a fit knows it, with its 95 % interval: each parameter and
 * each departure moved in turn, put together by the fit's own covariance.
 */
export function peakAsFitted(fit: FitResult): {
  readonly low: number;
  readonly value: number;
  readonly high: number;
} {
  const design = checkDesign(applyPatches(fit.design, drivenBy(HELD_BACK)));
  const runs = createRuns(simulate, 1, {});
  const { parameters, departures, covariance } = fit.knowledge;
  const senseOf = (d: Design): Float64Array => runs.run(d, { until: UNTIL })!.senseVoltage;
  const peakOf = (v: Float64Array): number => v.reduce((most, u) => Math.max(most, u), -Infinity);
  const base = senseOf(design);
  const { linear, bell } = shapesOf(design, 'sense', UNTIL, [], runs);
  const shapeOf = (code: string, size: number): ArrayLike<number> =>
    bell !== undefined && (code === LEANS || code === FLAT_TOPPED)
      ? reshapeBell(bell, code === LEANS ? size : 0, code === FLAT_TOPPED ? size : 0)
      : (linear.get(code)?.value.map((v) => v * size) ?? []);
  const plus = (v: Float64Array, shape: ArrayLike<number>): Float64Array =>
    v.map((u, i) => u + (shape[i] ?? 0));
  const whole = departures.reduce((v, { code, value }) => plus(v, shapeOf(code, value)), base);
  // The edge is higher than the bell: only what comes after it is looked at.
  const from = runs.run(design, { until: UNTIL })!.time.findIndex((t) => t > 70e-9);
  const to = base.length - 60;
  const bellPeak = (v: Float64Array): number => peakOf(v.subarray(from, to));
  const value = bellPeak(whole);
  const slopes = [
    ...parameters.map(({ name, value: at, logarithmic }) => {
      const step = logarithmic ? at * STEP : Math.max(Math.abs(at), 1e-12) * STEP;
      const moved = senseOf(withValues(design, [name], [at + step]));
      const still = senseOf(withValues(design, [name], [at]));
      const change =
        bellPeak(
          plus(
            whole,
            moved.map((u, i) => u - still[i]!),
          ),
        ) - value;
      return logarithmic ? change / STEP : change / step;
    }),
    ...departures.map(({ code }) => bellPeak(plus(whole, shapeOf(code, 0.1))) - value).map((d) => d / 0.1),
  ];
  let variance = 0;
  slopes.forEach((a, i) => slopes.forEach((b, j) => (variance += a * b * covariance[i]![j]!)));
  const known = new Set(departures.map(({ code }) => code));
  // What only this drive or this address departs by is as unknown as before.
  for (const [code, { value: shape }] of linear)
    if (!known.has(code)) variance += (bellPeak(plus(whole, shape)) - value) ** 2;
  const half = 1.96 * Math.sqrt(variance);
  return { low: value - half, value, high: value + half };
}

/** Does the interval hold what such a build really gives? */
export function holdsHeldBack(family: OffFamily, fit: FitResult): boolean {
  const { low, high } = peakAsFitted(fit);
  const truth = heldBackPeak(family);
  return low <= truth && truth <= high;
}
