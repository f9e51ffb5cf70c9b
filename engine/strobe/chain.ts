import { CONTRIBUTIONS } from '../network/causes.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { ChainCode, ChainStep } from './chain-step.ts';
import type { StrobeEnsemble } from './ensemble-result.ts';
import { overloadAt, partsAt } from './parts.ts';

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
