import { applyPatches } from '../base/json-patch.ts';
import type { Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import { orRefused } from './build.ts';
import type { Combination } from './combinations.ts';
import { refine, type Found } from './refine.ts';
import type { Run } from './run.ts';
import { NOTHING } from './reserve.ts';
import { levers } from './levers.ts';
import type { Lever } from './levers.ts';
import { readNeeds } from './needs.ts';
import { startOf } from './start.ts';
import type { Needs } from './needs.ts';
import type { Variables } from './variables.ts';

/** What one need must become for the rest to be met; `to` null: no value tried was found enough alone, and `best` is what was reached. */
export interface Relaxed {
  readonly need: string;
  readonly label: string;
  readonly unit: Lever['unit'];
  readonly from: number;
  readonly to: number | null;
  /** The value nearest to `to` that was tried and not found enough: `to` is known no finer. Null where `to` is. */
  readonly short: number | null;
  /** What is reached at `to`, or at the farthest value: 1 is all that is asked for. */
  readonly best: number;
  /** The farthest value that was tried. */
  readonly farthest: number;
  /** The need that is relaxed together with it, where no need alone is enough. */
  readonly also?: Pick<Relaxed, 'need' | 'label' | 'unit' | 'from' | 'to' | 'short' | 'farthest'>;
}

/** Points of each trial, and halvings between what is asked for and the farthest value: of one need, and of two at once. */
const POINTS = { first: 8, again: 4 } as const;
const HALVINGS = { one: 4, two: 3 } as const;

/** What part t of the way comes to, and the build that does. */
interface Reached {
  readonly value: number;
  readonly variables: Variables;
}

/** The levers for the build that came nearest. */
export function leversFor(needs: Needs, combination: Combination): readonly Lever[] {
  const core = (needs.raw as { cores: readonly unknown[] }).cores[combination.core];
  const { insideDiameter } = checkDesign({ core, wire: { diameter: '0.01 mm' } }).core.parameters;
  return levers(needs, insideDiameter, combination.winding.startsWith('shared') ? 3 : 4);
}

/**
 * Changes one need, or two together, the farthest way first; where that is enough, finds by halves how far along their
 * way they must go.
 */
export function relax(
  needs: Needs,
  combination: Combination,
  { variables: start, setBy: cases }: Pick<Found, 'variables' | 'setBy'>,
  [name, second]: readonly [string, string?],
  how: { readonly run: Run; readonly cancelled?: () => boolean },
): Relaxed {
  const all = leversFor(needs, combination);
  const lever = all.find(({ need }) => need === name)!;
  const other = all.find(({ need }) => need === second);
  const reached = (t: number, nearest: Variables): Reached => {
    const raw = [lever, ...(other ? [other] : [])].reduce<Json>(
      (file, each) => applyPatches(file, each.patches(each.at(t))),
      needs.raw,
    );
    const eased = orRefused(() => readNeeds(raw));
    if (eased === undefined) return { value: NOTHING, variables: nearest };
    const from = (at: Variables): Reached => {
      const found = orRefused(() =>
        refine(eased, combination, at, { ...how, enough: 1, cases }, POINTS),
      )?.found;
      return found ?? { value: NOTHING, variables: at };
    };
    const tracking = eased.drivers.track ? Math.max(0.8, nearest.tracking) : nearest.tracking;
    const best = from({ ...nearest, tracking });
    if (best.value >= 1 || how.cancelled?.() === true) return best;
    // The build that came nearest to the needs as they were may lie far from one that meets the eased ones.
    const afresh = orRefused(() => startOf(eased, combination));
    const fresh = afresh && from(afresh);
    return fresh !== undefined && fresh.value > best.value ? fresh : best;
  };
  const told = ({ need, label, unit, at }: Lever, [short, to]: readonly [number, number] | []) => ({
    need,
    label,
    unit,
    from: at(0),
    farthest: at(1),
    to: to === undefined ? null : at(to),
    short: short === undefined ? null : at(short),
  });
  const answer = (between: readonly [number, number] | [], { value }: Reached): Relaxed => ({
    ...told(lever, between),
    best: value,
    ...(other ? { also: told(other, between) } : {}),
  });
  let atEnough = reached(1, start);
  if (atEnough.value < 1) return answer([], atEnough);
  let [short, enough] = [0, 1];
  const halvings = other ? HALVINGS.two : lever.whole === true ? 0 : HALVINGS.one;
  for (let i = 0; i < halvings; i++) {
    const middle = (short + enough) / 2;
    const tried = reached(middle, atEnough.variables);
    if (tried.value >= 1) [enough, atEnough] = [middle, tried];
    else short = middle;
  }
  return answer([short, enough], atEnough);
}

/** The needs with one or two of them relaxed as far as was found to be enough; as they are where none was. */
export function easedNeeds(needs: Needs, combination: Combination, relaxed: Relaxed): Json {
  const all = leversFor(needs, combination);
  return [relaxed, ...(relaxed.also ? [relaxed.also] : [])].reduce<Json>((file, { need, to }) => {
    const lever = all.find((each) => each.need === need);
    return lever === undefined || to === null ? file : applyPatches(file, lever.patches(to));
  }, needs.raw);
}
