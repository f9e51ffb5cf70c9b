import { makeBench } from './trials.ts';
import type { Trial } from './trials.ts';
import { applyChange, findChange, sizeOf, windingChanges } from './changes.ts';
import type { Change } from './changes.ts';
import { inputCosts } from './costs.ts';
import type { InputCost } from './costs.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from './levers.ts';
import type { Lever } from './levers.ts';
import type { Design, Requirement } from '../design/design.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { simulate } from '../simulate/simulate.ts';
import { runEnsemble } from '../strobe/ensemble.ts';
import { reaches } from '../strobe/window-at.ts';

export type { Change, InputCost };
export { applyChange };
export { changeValueText, perUnitText } from './words.ts';

export interface AdviceOptions {
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
  readonly wanted: Requirement;
  readonly has: Requirement;
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
  const levers = RUN_LEVERS.filter((lever) => isTurnable(lever, design));
  const parts = levers.length + 5;
  let done = 0;
  const part = <T>(next: string, work: () => T): T => {
    options.onProgress?.(done++, parts, next);
    return work();
  };
  const ensemble = part('Patterns and disturb states', () =>
    runEnsemble(design, { simulate: run, cases: 'quick' }),
  );
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
  return {
    wanted,
    has,
    met,
    costs,
    changes: changes.sort((a, b) => sizeOf(a) - sizeOf(b)),
    failed: undefined,
  };
}

function isTurnable(lever: Lever, design: Design): boolean {
  const [low, high] = lever.range(design);
  return high > low;
}
