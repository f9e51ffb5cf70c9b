import { referToWire } from '../sense-amplifier/referred.ts';
import { amplifierInput, linearResponse } from '../sense-amplifier/amplifier.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { CONTRIBUTIONS } from '../network/causes.ts';
import type { Simulation } from '../solver/result.ts';
import type { ByContribution, Contribution } from '../network/causes.ts';
import { plannedPolarity } from '../mat/winding.ts';

/** Contributions of one run as the detector hears them: through the linear part, referred to the sense wire, V. */
export interface ReferredParts {
  readonly time: Float64Array;
  readonly parts: ByContribution<Float64Array>;
  /** What the common mode adds through the finite rejection. */
  readonly commonMode: Float64Array;
  /** The detector's trace itself, limits and rectification included. */
  readonly total: Float64Array;
  readonly rectified: boolean;
}

/** @throws RangeError when the run was not split by cause. */
export function referParts(run: Simulation): ReferredParts {
  const { contributions, design, time } = run;
  if (contributions === undefined) throw new RangeError('The run was not split by cause.');
  const { amplifier, selected } = design;
  const rectified = amplifier.polarity === 'either';
  const sign = rectified ? 1 : plannedPolarity(design, selected.row, selected.column);
  const unclamped = { ...amplifier, inputClamp: Infinity };
  const none = new Float64Array(time.length);
  const refer = (u: Float64Array, common: Float64Array): Float64Array =>
    referToWire(amplifier, linearResponse(amplifier, time, amplifierInput(unclamped, u, common))).map(
      (value) => value * sign,
    );
  const parts = Object.fromEntries(CONTRIBUTIONS.map((name) => [name, refer(contributions[name], none)]));
  return {
    time,
    parts: parts as unknown as ByContribution<Float64Array>,
    commonMode: refer(none, run.commonMode),
    total: referToWire(amplifier, run.amplifierOutput),
    rectified,
  };
}

/**
 * What each contribution and the common mode add at a signal time, V; of a rectified signal with the sign that they have
 * there.
 */
export function partsAt(
  referred: ReferredParts,
  t: number,
): { readonly parts: ByContribution<number>; readonly commonMode: number } {
  const values = CONTRIBUTIONS.map((name) => valueAt(referred.time, referred.parts[name], t));
  const common = valueAt(referred.time, referred.commonMode, t);
  const sum = values.reduce((total, value) => total + value, common);
  const sign = referred.rectified && sum < 0 ? -1 : 1;
  const parts = Object.fromEntries(CONTRIBUTIONS.map((name, i) => [name, sign * values[i]!]));
  return { parts: parts as unknown as ByContribution<number>, commonMode: sign * common };
}

/**
 * What the amplifier's clamp, output limit and recovery add at a signal time, V: the trace that is heard less the sum of
 * all that drives it.
 */
export function overloadAt(referred: ReferredParts, t: number): number {
  const { parts, commonMode } = partsAt(referred, t);
  const linear = CONTRIBUTIONS.reduce((total, name) => total + parts[name], commonMode);
  return valueAt(referred.time, referred.total, t) - linear;
}

/** The largest of the contributions that push the same way as their sum. */
export function dominantPart(parts: ByContribution<number>): Contribution {
  return CONTRIBUTIONS.reduce((most, name) => (parts[name] > parts[most] ? name : most));
}
