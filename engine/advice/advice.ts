import { makeBench } from './trials.ts';
import type { JudgedSet, Trial } from './trials.ts';
import { findPairs } from './pairs.ts';
import { findChange, sizeOf, windingChanges } from './changes.ts';
import type { Change } from './changes.ts';
import { inputCosts } from './costs.ts';
import type { InputCost } from './costs.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from './levers.ts';
import type { Lever } from './levers.ts';
import { atWorstHeat } from './worst-heat.ts';
import type { WorstHeat } from './worst-heat.ts';
import type { Design } from '../design/design.ts';
import type { Requirement, SetName } from '../design/requirement.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { brokenLimits } from '../estimates/constraints.ts';
import type { BrokenLimit } from '../estimates/constraints/constraint.ts';
import { simulate } from '../simulate/simulate.ts';
import { reaches } from '../strobe/window-at.ts';

export interface AdviceOptions {
  /** Sets of cases by which changes are judged (default: those of the design's that are margins). */
  readonly sets?: readonly JudgedSet[];
  /** Default: the design's requirement. */
  readonly wanted?: Requirement;
  readonly simulate?: (design: Design, options?: SimulateOptions) => Simulation;
  /** Polled by every run; a cancelled advice ends soon and says what it has. */
  readonly cancelled?: () => boolean;
  /** Trial values on either side of the present one before a lever is given up (default 6). */
  readonly trials?: number;
  /** Told before each part of the work: how many parts are done of how many, and what the next one tries. */
  readonly onProgress?: (done: number, total: number, next: string) => void;
}

export interface Advice {
  /** Sets of cases that are judged together: margin and width are the least of them. */
  readonly sets: readonly JudgedSet[];
  /**
   * What everything here is judged with, as the verdict is; undefined: the coefficients are known, or do not matter, or
   * the one assumed is the worst.
   */
  readonly heat: WorstHeat | undefined;
  /** Sets that the design asks for and by which no change is judged: they are no margins. */
  readonly unjudged: readonly SetName[];
  /** What everything here takes for granted and the design does not keep to; a change is tried without regard to it. */
  readonly limits: readonly BrokenLimit[];
  readonly wanted: Requirement;
  readonly has: Requirement;
  readonly met: boolean;
  /** Ranked by what the stated tolerance takes, then by what one step does. */
  readonly costs: readonly InputCost[];
  /** Changes that reach it first, smallest relative change first. */
  readonly changes: readonly Change[];
  /** Where no single change reaches it: two together that do, smallest first, the first made before the second. */
  readonly pairs: readonly (readonly [Change, Change])[];
  /** The run that failed, when there is nothing to advise on. */
  readonly failed: string | undefined;
}

/**
 * What uses the margin up (V and s per unit of each input), and which single change, or else which two together, would
 * restore what is wanted over the sets asked for. Takes minutes on a large mat. Where a run fails, `failed` names it and
 * there is nothing to advise.
 */
export function advise(given: Design, options: AdviceOptions = {}): Advice {
  const one = options.simulate ?? simulate;
  const run = (changed: Design, how?: SimulateOptions): Simulation =>
    one(changed, { ...how, cancelled: options.cancelled });
  const wanted = options.wanted ?? given.requirement;
  const levers = RUN_LEVERS.filter((lever) => isTurnable(lever, given));
  const sets = options.sets ?? judgedSets(given);
  const unjudged = given.requirement.sets.filter((set) => set !== 'nominal' && set !== 'corners');
  const limits = brokenLimits(given);
  const parts = levers.length + 6;
  let done = 0;
  const part = <T>(next: string, work: () => T): T => {
    options.onProgress?.(done++, parts, next);
    return work();
  };
  const { design, heat, ensemble } = part('Every case of the sets asked for', () =>
    atWorstHeat(given, sets, run),
  );
  if (!('envelope' in ensemble))
    return {
      sets,
      heat,
      unjudged,
      limits,
      wanted,
      has: { margin: NaN, width: 0 },
      met: false,
      costs: [],
      changes: [],
      pairs: [],
      failed: ensemble.failed.name,
    };
  const bench = makeBench(design, ensemble, sets, run);
  const has = bench.full(design);
  const met = reaches(has, wanted);
  const costs = part('What each input costs', () => inputCosts(bench));
  const change = (lever: Lever, trials: number, trial: (changed: Design) => Trial | undefined): Change =>
    part(lever.label, () => findChange(bench, lever, wanted, trials, trial));
  const changes = met
    ? []
    : [
        change(STROBE, 200, bench.moved),
        change(THRESHOLD, 200, bench.moved),
        ...levers.map((lever) => change(lever, options.trials ?? 6, bench.quick)),
        ...part('Winding', () => windingChanges(bench, wanted)),
      ];
  changes.sort((a, b) => sizeOf(a) - sizeOf(b));
  const alone = met || changes.some(({ to }) => to !== undefined);
  const pairs = part('Two changes together', () =>
    alone ? [] : findPairs(bench, changes, wanted, options.trials ?? 6, run),
  );
  return {
    sets,
    heat,
    unjudged,
    limits,
    wanted,
    has,
    met,
    costs,
    changes,
    pairs,
    failed: undefined,
  };
}

/** The sets that a design asks for and that are margins; nominal where it asks for none of them. */
function judgedSets({ requirement }: Design): readonly JudgedSet[] {
  const asked = (['nominal', 'corners'] as const).filter((set) => requirement.sets.includes(set));
  return asked.length > 0 ? asked : ['nominal'];
}

function isTurnable(lever: Lever, design: Design): boolean {
  const [low, high] = lever.range(design);
  return high > low;
}
