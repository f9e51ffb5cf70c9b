import type { Design } from '../design/design.ts';
import type { Requirement } from '../design/requirement.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { runEnsemble } from '../strobe/ensemble.ts';
import { applyChange, findChange, sizeOf } from './changes.ts';
import type { Change } from './changes.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from './levers.ts';
import { casesFor, makeBench, recheck } from './trials.ts';
import type { Bench } from './trials.ts';

/** How many of the single changes that come nearest are made first. */
const FIRST = 2;
/** How many others are tried after each of them, besides strobe and threshold. */
const SECOND = 2;

/**
 * Two changes that reach together what none does alone: the single changes that came nearest, each made as far as it gave
 * the best margin; then the smallest further change of strobe, threshold or another input that came near. Every pair that
 * is told was verified by a full run.
 */
export function findPairs(
  bench: Bench,
  singles: readonly Change[],
  wanted: Requirement,
  trials: number,
  run: (design: Design, options?: SimulateOptions) => Simulation,
): (readonly [Change, Change])[] {
  const better = singles
    .filter(
      ({ at, gives, label }) => at !== undefined && Number.isFinite(gives.margin) && label !== STROBE.label,
    )
    .sort((a, b) => b.gives.margin - a.gives.margin);
  const found = better.slice(0, FIRST).flatMap((first) => {
    const changed = recheck(applyChange(bench.design, first));
    const ensemble = changed && runEnsemble(changed, { simulate: run, cases: casesFor(bench.sets) });
    if (changed === undefined || ensemble === undefined || !('envelope' in ensemble)) return [];
    const next = makeBench(changed, ensemble, bench.sets, run);
    // Another winding is no lever and must not stand in the place of one.
    const levers = better
      .flatMap(({ label }) => RUN_LEVERS.filter((lever) => lever.label === label && label !== first.label))
      .slice(0, SECOND);
    const seconds = [
      ...[STROBE, THRESHOLD].map((lever) => findChange(next, lever, wanted, 200, next.moved)),
      ...levers.map((lever) => findChange(next, lever, wanted, trials, next.quick)),
    ];
    const made: Change = { ...first, to: first.at };
    return seconds.filter(({ to }) => to !== undefined).map((second) => [made, second] as const);
  });
  const size = ([first, second]: readonly [Change, Change]): number => sizeOf(first) + sizeOf(second);
  return found.sort((a, b) => size(a) - size(b));
}
