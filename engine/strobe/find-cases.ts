import type { Design } from '../design/design.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { CaseRuns } from './case-runs.ts';
import { caseTraits, casesAbout, placeOf } from './case-traits.ts';
import { likeness } from './case-likeness.ts';
import { caseSpace } from './cases.ts';
import type { CaseSpace } from './cases.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { windowAt } from './window-at.ts';
import { searchCases } from './worst-case.ts';
import type { CaseProduct, CaseSearch } from './worst-case.ts';

export type Searches = readonly CaseSearch[];

/** For a ONE and for a ZERO: the whole product of cases, with those that were run already. Targets are signal times, s. */
export function caseSearches(design: Design, runs: CaseRuns, time: Float64Array): Searches {
  const space = caseSpace(design);
  return ([1, 0] as const).map((bit) =>
    searchCases(productOf(design, space, bit, runs, time), ownCases(space)),
  );
}

/** Every pattern after every history that has no cycle before, at the design's own address, as designed. */
function ownCases(space: CaseSpace): number[] {
  return space.patterns.flatMap((_, pattern) =>
    space.histories.flatMap(({ previous }, history) =>
      previous === undefined ? [placeOf(space, { pattern, history, address: 0, corner: 0 })] : [],
    ),
  );
}

function productOf(
  design: Design,
  space: CaseSpace,
  bit: 0 | 1,
  runs: CaseRuns,
  time: Float64Array,
): CaseProduct {
  const traits = caseTraits(design, bit, space);
  const either = design.amplifier.polarity === 'either';
  const signs = either ? ([1, -1] as const) : ([1] as const);
  return {
    count: traits.length,
    asDesigned: (place) => traits[place]!.corner === 0,
    alike: (a, b) => likeness(traits[a]!, traits[b]!),
    about: (place) => casesAbout(space, traits, place),
    // An amplifier that hears both polarities takes a ZERO of either for a ONE.
    badness: bit === 1 ? [either ? (u) => -Math.abs(u) : (u) => -u] : signs.map((sign) => (u) => sign * u),
    run: (place) => {
      const { pattern, history, address, corner, sign } = traits[place]!;
      const spec = {
        bit,
        ...space.patterns[pattern]!,
        ...space.histories[history]!,
        ...space.addresses[address]!,
        ...space.corners[corner]!,
      };
      const found = runs.add(spec);
      const turned = either ? sign : 1;
      return found && ((t) => turned * valueAt(time, found.signed, t));
    },
  };
}

/** Rounds in which the instants that count may move with what was found. */
const ROUNDS = 3;

/** Runs cases until those that are worst at the instants that count, the strobe first, are among them. */
export function addWorst(searches: Searches, targets: () => readonly number[]): void {
  let before: readonly number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const now = targets();
    if (now.every((t, i) => t === before[i])) return;
    const [strobe, ...edges] = now;
    for (const search of searches) {
      search.settle(strobe!);
      for (const edge of edges) search.follow(edge);
    }
    before = now;
  }
}

/** Signal times that decide a window: at the strobe in force and, where it lies in an interval that passes, at its edges. */
export function instants(
  design: Design,
  envelope: StrobeEnvelope,
  uncertainties: StrobeUncertainties,
): readonly number[] {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const { inForce, distance } = windowAt(envelope, at, uncertainties);
  const { delay, guard } = uncertainties;
  const strobe = inForce.time - delay;
  return distance ? [strobe, strobe - distance.toStart - guard, strobe + distance.toEnd + guard] : [strobe];
}
