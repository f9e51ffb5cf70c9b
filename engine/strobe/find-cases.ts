import type { Design } from '../design/design.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { CaseRuns } from './case-runs.ts';
import { caseSpace } from './cases.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { windowAt } from './window-at.ts';
import { searchCases } from './worst-case.ts';
import type { CaseIndex, CaseSearch } from './worst-case.ts';

export type Searches = readonly CaseSearch[];

/** For a ONE and for a ZERO: the whole product of cases, with those that were run already. Targets are signal times, s. */
export function caseSearches(design: Design, runs: CaseRuns, time: Float64Array): Searches {
  const { patterns, histories, addresses, corners } = caseSpace(design);
  const sizes = [patterns.length, histories.length, addresses.length, corners.length];
  const own = patterns.flatMap((_, p) =>
    histories.flatMap(({ previous }, h) => (previous === undefined ? [[p, h, 0, 0]] : [])),
  );
  // A disturbed core answers sooner: where more drive makes one state worse, less may make the other worse still.
  const otherState = ([p, h, a]: CaseIndex): CaseIndex[] => {
    const now = histories[h!]!;
    const other = histories.findIndex((each) => each.previous === now.previous && each.state !== now.state);
    return corners.map((_, c) => [p!, other, a!, c]);
  };
  const run = (bit: 0 | 1) => {
    const sign = bit === 1 ? -1 : 1;
    return ([p, h, a, c]: CaseIndex): ((t: number) => number) => {
      const spec = { bit, ...patterns[p!]!, ...histories[h!]!, ...addresses[a!]!, ...corners[c!]! };
      const found = runs.add(spec);
      return (t) => (found ? sign * valueAt(time, found.heard, t) : -Infinity);
    };
  };
  return ([1, 0] as const).map((bit) => searchCases(sizes, own, run(bit), otherState));
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
