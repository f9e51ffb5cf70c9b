import type { Json } from '../base/json-patch.ts';
import type { Design } from '../design/design.ts';
import type { CaseSpec } from '../strobe/case-overrides.ts';
import type { RunsAtHand } from '../strobe/case-runs.ts';
import { supplyCurrent } from '../estimates/supply-needs.ts';
import { orRefused } from './build.ts';
import { climb } from './climb.ts';
import type { Point } from './climb.ts';
import type { Combination } from './combinations.ts';
import { firstCases, judgeWhole } from './judge.ts';
import type { Judged } from './judge.ts';
import type { Run } from './run.ts';
import type { Bind } from './bindings.ts';
import type { Needs } from './needs.ts';
import type { Variables } from './variables.ts';

/** A point as it travels: judged by some cases (`try`) or by the worst of all (`refine`). */
export interface Found {
  readonly combination: Combination;
  readonly variables: Variables;
  readonly design: Json;
  readonly value: number;
  readonly reserve: number;
  readonly strobe: number;
  readonly threshold: number;
  readonly binding: readonly Bind[];
  /** Cases that set its box. */
  readonly setBy: readonly CaseSpec[];
  /** A of the supply on average, every bit ZERO. */
  readonly current: number;
}

/** A found build with the runs of its proof's cases, which do not travel: design without strobe and threshold. */
export interface Refined {
  readonly found: Found;
  readonly design: Design;
  readonly runs: RunsAtHand;
}

/** Points of the search: at its start, and when new cases came to it. */
const POINTS = { first: 20, again: 10 } as const;
/** Times that cases which turned out worse are added and the search goes on. */
const AGAIN = 2;
/** The worst of all cases takes less than this more than the cases of the search did: they are enough. */
const SETTLED = 0.01;

/** Search, look for worse cases, search on with them; the best by the worst of all cases. */
export function refine(
  needs: Needs,
  combination: Combination,
  start: Variables,
  how: { readonly run: Run; readonly cancelled?: () => boolean; readonly enough?: number },
  points: { readonly first: number; readonly again: number } = POINTS,
): Refined | undefined {
  let cases: readonly CaseSpec[] = [];
  let best: Refined | undefined;
  let from = start;
  for (let round = 0; round <= AGAIN; round++) {
    const point = climb(needs, combination, from, {
      ...how,
      cases: (design) => [...firstCases(design), ...cases],
      points: round === 0 ? points.first : points.again,
    });
    if (point === undefined || how.cancelled?.() === true) break;
    const whole = orRefused(() =>
      judgeWhole(needs, point.design, [...firstCases(point.design), ...cases], how.run),
    );
    if (whole === undefined) break;
    const { judged, runs } = whole;
    if (best === undefined || judged.value > best.found.value)
      best = { found: foundOf(combination, point, judged), design: point.design, runs };
    if (point.judged.value - judged.value < SETTLED || best.found.value >= (how.enough ?? Infinity)) break;
    cases = [...cases, ...judged.setBy];
    from = point.variables;
  }
  return best;
}

export const foundOf = (
  combination: Combination,
  { variables, file, design }: Point,
  judged: Judged,
): Found => ({
  combination,
  variables,
  design: file,
  ...judged,
  current: supplyCurrent(design, 1 / design.cycle.period),
});
