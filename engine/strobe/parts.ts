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
  const scale = 1 / (amplifier.divider * amplifier.gain);
  const rectified = amplifier.polarity === 'either';
  const sign = rectified ? 1 : plannedPolarity(design, selected.row, selected.column);
  const unclamped = { ...amplifier, inputClamp: Infinity };
  const none = new Float64Array(time.length);
  const refer = (u: Float64Array, common: Float64Array): Float64Array =>
    linearResponse(amplifier, time, amplifierInput(unclamped, u, common)).map(
      (value) => value * scale * sign,
    );
  const parts = Object.fromEntries(CONTRIBUTIONS.map((name) => [name, refer(contributions[name], none)]));
  return {
    time,
    parts: parts as unknown as ByContribution<Float64Array>,
    commonMode: refer(none, run.commonMode),
    total: run.amplifierOutput.map((value) => value * scale),
    rectified,
  };
}

/** What each contribution adds at a signal time, V; of a rectified signal with the sign that it has there. */
export function partsAt(referred: ReferredParts, t: number): ByContribution<number> {
  const values = CONTRIBUTIONS.map((name) => valueAt(referred.time, referred.parts[name], t));
  const common = valueAt(referred.time, referred.commonMode, t);
  const sum = values.reduce((total, value) => total + value, common);
  const sign = referred.rectified && sum < 0 ? -1 : 1;
  return Object.fromEntries(
    CONTRIBUTIONS.map((name, i) => [name, sign * values[i]]),
  ) as unknown as ByContribution<number>;
}

/** The largest of the contributions that push the same way as their sum. */
export function dominantPart(parts: ByContribution<number>): Contribution {
  return CONTRIBUTIONS.reduce((most, name) => (parts[name] > parts[most] ? name : most));
}
