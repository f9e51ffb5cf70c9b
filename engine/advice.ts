import { makeBench, reaches } from './advice-bench.ts';
import type { Wanted } from './advice-bench.ts';
import { findChange, sizeOf, windingChanges } from './advice-changes.ts';
import type { Change } from './advice-changes.ts';
import { inputCosts } from './advice-costs.ts';
import type { InputCost } from './advice-costs.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from './advice-levers.ts';
import type { Lever } from './advice-levers.ts';
import type { Design } from './design.ts';
import type { SimulateOptions, Simulation } from './result.ts';
import { simulate } from './simulate.ts';
import { runEnsemble } from './strobe-ensemble.ts';

export type { Change, InputCost, Wanted };

export interface AdviceOptions {
  /** Default: the design's requirement. */
  readonly wanted?: Wanted;
  readonly simulate?: (design: Design, options?: SimulateOptions) => Simulation;
  /** Polled by every run; a cancelled advice ends soon and says what it has. */
  readonly cancelled?: () => boolean;
  /** Trial values on either side of the present one before a lever is given up (default 6). */
  readonly trials?: number;
}

export interface Advice {
  readonly wanted: Wanted;
  readonly has: Wanted;
  readonly met: boolean;
  /** Ranked by what the stated tolerance takes, then by what one step does. */
  readonly costs: readonly InputCost[];
  /** Changes that reach it first, smallest relative change first. */
  readonly changes: readonly Change[];
  /** The run that failed, when there is nothing to advise on. */
  readonly failed: string | undefined;
}

/** What uses the margin up, and what single change would restore it. */
export function advise(design: Design, options: AdviceOptions = {}): Advice {
  const one = options.simulate ?? simulate;
  const run = (changed: Design, how?: SimulateOptions): Simulation =>
    one(changed, { ...how, cancelled: options.cancelled });
  const wanted = options.wanted ?? design.requirement;
  const ensemble = runEnsemble(design, { simulate: run, cases: 'quick' });
  if (!('envelope' in ensemble))
    return {
      wanted,
      has: { margin: NaN, width: 0 },
      met: false,
      costs: [],
      changes: [],
      failed: ensemble.failed.name,
    };
  const bench = makeBench(design, ensemble, run);
  const has = bench.full(design);
  const met = reaches(has, wanted);
  const levers = RUN_LEVERS.filter((lever) => isTurnable(lever, design));
  const changes = met
    ? []
    : [
        findChange(bench, STROBE, wanted, 200, bench.moved),
        findChange(bench, THRESHOLD, wanted, 200, bench.moved),
        ...levers.map((lever) => findChange(bench, lever, wanted, options.trials ?? 6, bench.quick)),
        ...windingChanges(bench, wanted),
      ];
  return {
    wanted,
    has,
    met,
    costs: inputCosts(bench),
    changes: changes.sort((a, b) => sizeOf(a) - sizeOf(b)),
    failed: undefined,
  };
}

function isTurnable(lever: Lever, design: Design): boolean {
  const [low, high] = lever.range(design);
  return high > low;
}
