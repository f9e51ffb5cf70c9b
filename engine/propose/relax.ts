import { applyPatches } from '../base/json-patch.ts';
import type { Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import { orRefused } from './build.ts';
import type { Combination } from './combinations.ts';
import { refine } from './refine.ts';
import type { Run } from './run.ts';
import { NOTHING } from './reserve.ts';
import { levers } from './levers.ts';
import type { Lever } from './levers.ts';
import { readNeeds } from './needs.ts';
import type { Needs } from './needs.ts';
import type { Variables } from './variables.ts';

/** What one need must become for the rest to be met; `to` null: alone it never does, and `best` is the value reached. */
export interface Relaxed {
  readonly need: string;
  readonly label: string;
  readonly unit: Lever['unit'];
  readonly from: number;
  readonly to: number | null;
  /** What is reached at `to`, or at the farthest value: 1 is all that is asked for. */
  readonly best: number;
  /** The farthest value that was tried. */
  readonly farthest: number;
}

/** Points of each trial, and halvings between what is asked for and the farthest value. */
const POINTS = { first: 8, again: 4 } as const;
const HALVINGS = 3;

/** The levers for the build that came nearest. */
export function leversFor(needs: Needs, combination: Combination): readonly Lever[] {
  const core = (needs.raw as { cores: readonly unknown[] }).cores[combination.core];
  const { insideDiameter } = checkDesign({ core, wire: { diameter: '0.01 mm' } }).core.parameters;
  return levers(needs, insideDiameter, combination.winding.startsWith('shared') ? 3 : 4);
}

/** Changes one need alone, the farthest way first; where that is enough, finds by halves how far it must go. */
export function relax(
  needs: Needs,
  combination: Combination,
  start: Variables,
  name: string,
  how: { readonly run: Run; readonly cancelled?: () => boolean },
): Relaxed {
  const lever = leversFor(needs, combination).find(({ need }) => need === name)!;
  const reached = (t: number): number => {
    const raw = applyPatches(needs.raw, lever.patches(lever.at(t)));
    const found = orRefused(() => {
      const eased = readNeeds(raw);
      const from = {
        ...start,
        tracking: eased.drivers.track ? Math.max(0.8, start.tracking) : start.tracking,
      };
      return refine(eased, combination, from, { ...how, enough: 1 }, POINTS);
    });
    return found?.value ?? NOTHING;
  };
  const told = {
    need: lever.need,
    label: lever.label,
    unit: lever.unit,
    from: lever.at(0),
    farthest: lever.at(1),
  };
  const best = reached(1);
  if (best < 1) return { ...told, to: null, best };
  let [short, enough] = [0, 1];
  let atEnough = best;
  for (let i = 0; i < HALVINGS && lever.whole !== true; i++) {
    const middle = (short + enough) / 2;
    const value = reached(middle);
    if (value >= 1) [enough, atEnough] = [middle, value];
    else short = middle;
  }
  return { ...told, to: lever.at(enough), best: atEnough };
}

/** The needs with one of them relaxed as far as was found to be enough; as they are where none was. */
export function easedNeeds(needs: Needs, combination: Combination, { need, to }: Relaxed): Json {
  const lever = leversFor(needs, combination).find((each) => each.need === need);
  return lever === undefined || to === null ? needs.raw : applyPatches(needs.raw, lever.patches(to));
}
