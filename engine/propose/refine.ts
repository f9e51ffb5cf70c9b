import type { Json } from '../base/json-patch.ts';
import type { Design } from '../design/design.ts';
import type { CaseSpec } from '../strobe/case-overrides.ts';
import type { RunsAtHand } from '../strobe/case-runs.ts';
import { supplyCurrent } from '../estimates/supply-needs.ts';
import { build, orRefused } from './build.ts';
import { climb } from './climb.ts';
import type { Point } from './climb.ts';
import type { Combination } from './combinations.ts';
import { firstCases } from './first-cases.ts';
import { judgeWhole } from './judge.ts';
import type { Aim, Judged } from './judge.ts';
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

/** Points of the search: at first, and when new cases came to it. */
const POINTS = { first: 20, again: 10 } as const;
/** Times that cases which turned out worse are added and the search goes on. */
const AGAIN = 2;
/** The worst of all cases takes less than this more than the cases of the search did: they are enough. */
const SETTLED = 0.01;

/** How a search is run, and from what it may begin. */
export interface Refining {
  readonly run: Run;
  readonly aim?: Aim;
  readonly cancelled?: () => boolean;
  /** A value at which there is no need to go on. */
  readonly enough?: number;
  /** Cases that are likely to be the worst; by default the worst of all at the start are looked for first. */
  readonly cases?: readonly CaseSpec[];
}

/**
 * Search by the cases that are worst at the start, look for worse ones where it has come to, search on with them from the
 * best so far; the best by the worst of all cases.
 */
export function refine(
  needs: Needs,
  combination: Combination,
  start: Variables,
  how: Refining,
  points: { readonly first: number; readonly again: number } = POINTS,
): Refined | undefined {
  let best: Refined | undefined;
  let cases = how.cases ?? [];
  const { enough = Infinity } = how;
  /** By the worst of all cases, which those that set its box join; undefined where it is no design, or was cancelled. */
  const judgeAll = (point: Omit<Point, 'judged'>): Judged | undefined => {
    const at = [...firstCases(point.design), ...cases];
    const whole = orRefused(() => judgeWhole(needs, point.design, at, how));
    if (whole === undefined || how.cancelled?.() === true) return undefined;
    const { judged, runs } = whole;
    cases = [...cases, ...judged.setBy];
    if (best === undefined || judged.value > best.found.value)
      best = { found: foundOf(combination, point, judged), design: point.design, runs };
    return judged;
  };
  if (how.cases === undefined) {
    const built = orRefused(() => build(needs, combination, start));
    if (built === undefined || judgeAll({ ...built, variables: start }) === undefined) return best;
  }
  const isEnough = (): boolean => best !== undefined && best.found.value >= enough;
  for (let round = 0; round <= AGAIN; round++) {
    if (isEnough()) break;
    const point = climb(needs, combination, best?.found.variables ?? start, {
      ...how,
      cases: (design) => [...firstCases(design), ...cases],
      points: round === 0 ? points.first : points.again,
    });
    if (point === undefined || how.cancelled?.() === true) break;
    if (best && JSON.stringify(point.file) === JSON.stringify(best.found.design)) break;
    const judged = judgeAll(point);
    if (judged === undefined || point.judged.value - judged.value < SETTLED) break;
  }
  return best;
}

export const foundOf = (
  combination: Combination,
  { variables, file, design }: Omit<Point, 'judged'>,
  judged: Judged,
): Found => ({
  combination,
  variables,
  design: file,
  ...judged,
  current: supplyCurrent(design, 1 / design.cycle.period),
});
