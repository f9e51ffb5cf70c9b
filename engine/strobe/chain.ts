import { CONTRIBUTIONS } from '../network/causes.ts';
import type { Contribution } from '../network/causes.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { StrobeEnsemble } from './ensemble.ts';
import { overloadAt, partsAt } from './parts.ts';

/**
 * The margin of one side of the threshold, from the signal of the selected core to what is left: every step adds or
 * takes, and all of them together are what is left, to rounding. At the ends of sets that were computed the sum so far
 * is that set's own margin on this side.
 */
export interface ChainStep {
  readonly step: ChainCode;
  /** V at the sense wire; negative: takes from the margin. The step `left` is the sum of all before. */
  readonly volts: number;
  /** The sum up to and with this step is the margin of this set on this side. */
  readonly set?: 'nominal' | 'corners' | 'core';
  /** Name of the case, where the step belongs to one. */
  readonly of?: string;
}

export type ChainCode =
  | Contribution
  /** What the mean of the two terminals adds through the finite rejection. */
  | 'commonMode'
  /** Clamp, output limit and recovery of the amplifier. */
  | 'overload'
  /** Another case is worse than the one that was split (after the strobe was moved). */
  | 'otherCase'
  | 'threshold'
  | 'uncertainty'
  /** One input alone moved to the end that the worst corner has it at. */
  | 'drive'
  | 'supply'
  | 'temperature'
  /** Tolerance of the threshold, at the corners. */
  | 'thresholdTolerance'
  /** What inputs do together beyond the sum of each alone, and what another case at the corners adds. */
  | 'interaction'
  /** What is not known of the core. */
  | 'core'
  | 'left';

/**
 * @param time s, the strobe; @param threshold V, as at the start of read
 * @param coreMargin V: this side's least margin over what is not known of the core; undefined: not computed
 */
export function marginChain(
  ensemble: StrobeEnsemble,
  side: 'one' | 'zero',
  { time, threshold }: { readonly time: number; readonly threshold: number },
  coreMargin?: number,
): ChainStep[] {
  const { envelope, uncertainties, worst, corners } = ensemble;
  const seen = time - uncertainties.delay;
  const sign = side === 'one' ? 1 : -1;
  const at = (trace: Float64Array): number => valueAt(envelope.time, trace, seen);
  const steps: ChainStep[] = [];
  let sum = 0;
  const add = (step: ChainCode, volts: number, more: Pick<ChainStep, 'set' | 'of'> = {}): void => {
    sum += volts;
    steps.push({ step, volts, ...more });
  };
  const level = threshold + uncertainties.slope * Math.max(0, seen);
  const addLevel = (): void => add('threshold', -sign * level);

  const { parts, commonMode } = partsAt(worst[side], seen);
  const heard = at(worst[side].total);
  if (side === 'zero') addLevel();
  add('selectedCore', sign * parts.selectedCore);
  for (const name of CONTRIBUTIONS) if (name !== 'selectedCore') add(name, sign * parts[name]);
  add('commonMode', sign * commonMode);
  add('overload', sign * overloadAt(worst[side], seen));
  const nominal = at(envelope[side]);
  add('otherCase', sign * (nominal - heard));
  if (side === 'one') addLevel();
  add('uncertainty', -uncertainties.threshold, { set: 'nominal' });

  if (corners) {
    const moved = corners.alone[side];
    const base = at(moved.base);
    let split = 0;
    for (const input of ['drive', 'supply', 'temperature'] as const) {
      const trace = moved[input];
      if (trace === undefined) continue;
      const volts = sign * (at(trace) - base);
      split += volts;
      add(input, volts);
    }
    add('interaction', sign * (at(corners.envelope[side]) - nominal) - split, { of: moved.name });
    add('thresholdTolerance', uncertainties.threshold - corners.uncertainties.threshold, { set: 'corners' });
  }
  if (coreMargin !== undefined) add('core', coreMargin - sum, { set: 'core' });
  steps.push({ step: 'left', volts: sum });
  return steps;
}
