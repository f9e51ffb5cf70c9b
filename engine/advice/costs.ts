import { strobeOf } from './trials.ts';
import type { Bench } from './trials.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from './levers.ts';
import { strobeUncertainties } from '../strobe/envelope.ts';
import type { Unit } from '../base/units.ts';
import { windowAt } from '../strobe/window-at.ts';

/** What one unit of an input costs, and what its stated tolerance does. Signs: positive is a gain. */
export interface InputCost {
  readonly label: string;
  readonly fields: readonly string[];
  readonly unit: Unit;
  /** V per unit of the input, at the strobe in force: least ONE over threshold, threshold over greatest ZERO. */
  readonly onePerUnit: number;
  readonly zeroPerUnit: number;
  /** s per unit. */
  readonly widthPerUnit: number;
  /** Size of the tolerance that the design states, in the input's unit, and the margin it takes, V. */
  readonly tolerance: number;
  readonly takes: number;
}

/** Central differences at the strobe in force, which stays where it is, over the patterns that define it there. */
export function inputCosts(bench: Bench): InputCost[] {
  const { design } = bench;
  const time = strobeOf(bench);
  const held = { ...design, strobe: { ...design.strobe, time } };
  const costs = [STROBE, THRESHOLD, ...RUN_LEVERS].flatMap((lever) => {
    const value = lever.read(held);
    const step = lever.step(held);
    if (!Number.isFinite(value) || !Number.isFinite(step) || step === 0) return [];
    const sides = [value - step, value + step].map((v) => {
      const changed = lever.write(held, v);
      const envelope =
        lever === STROBE || lever === THRESHOLD ? bench.ensemble.envelope : bench.rerun(changed);
      if (envelope === undefined) return undefined;
      const at = { time: changed.strobe.time, threshold: changed.detector.threshold };
      const { margin, distance } = windowAt(envelope, at, strobeUncertainties(changed));
      return { ...margin, width: distance ? distance.toStart + distance.toEnd : 0 };
    });
    const [below, above] = sides;
    if (below === undefined || above === undefined) return [];
    const perUnit = (key: 'one' | 'zero' | 'width'): number => (above[key] - below[key]) / (2 * step);
    const tolerance = lever.tolerance(held);
    const worst = Math.max(Math.abs(perUnit('one')), Math.abs(perUnit('zero')));
    const cost: InputCost = {
      label: lever.label,
      fields: lever.fields,
      unit: lever.unit,
      onePerUnit: perUnit('one'),
      zeroPerUnit: perUnit('zero'),
      widthPerUnit: perUnit('width'),
      tolerance,
      takes: worst * tolerance,
    };
    return [{ cost, perStep: worst * step }];
  });
  return costs.sort((a, b) => b.cost.takes - a.cost.takes || b.perStep - a.perStep).map(({ cost }) => cost);
}
