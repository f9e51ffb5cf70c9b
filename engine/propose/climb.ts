import type { Design } from '../design/design.ts';
import type { CaseSpec } from '../strobe/case-overrides.ts';
import { build, orRefused } from './build.ts';
import type { Build } from './build.ts';
import type { Combination } from './combinations.ts';
import { judge } from './judge.ts';
import type { Aim, Judged } from './judge.ts';
import type { Run } from './run.ts';
import type { Needs } from './needs.ts';
import { moved, ranges } from './variables.ts';
import type { VariableName, Variables } from './variables.ts';

/** A point of the search. */
export interface Point extends Build {
  readonly variables: Variables;
  readonly judged: Judged;
}

/** In this order they matter; a search that ends early has moved the first ones. */
const ORDER: readonly VariableName[] = [
  'half',
  'tracking',
  'stagger',
  'rise',
  'termination',
  'inhibit',
  'bandwidth',
];
/** A step that was halved so often is finer than parts are. */
const FINEST = 1 / 8;
/** A point that is no better than by this is the same. */
const BETTER = 1e-3;

/**
 * Compass search: one variable at a time, either way, the step of each halved when neither way is better. The start
 * counts as a point. Undefined where not even the start makes a design, or it was cancelled before.
 */
export function climb(
  needs: Needs,
  combination: Combination,
  start: Variables,
  how: {
    /** What a build is judged by. */
    readonly cases: (design: Design) => readonly CaseSpec[];
    readonly points: number;
    readonly run: Run;
    readonly aim?: Aim;
    readonly cancelled?: () => boolean;
    /** A value at which there is no need to go on. */
    readonly enough?: number;
  },
): Point | undefined {
  const limits = ranges(needs, start);
  const seen = new Set<string>();
  let points = 0;
  let best: Point | undefined;
  /** Undefined also where it is no better than the best. */
  const at = (variables: Variables): Point | undefined => {
    if (points >= how.points || how.cancelled?.() === true) return undefined;
    return orRefused(() => {
      const built = build(needs, combination, variables);
      const key = JSON.stringify(built.file);
      if (seen.has(key)) return undefined;
      seen.add(key);
      points++;
      const cases = { all: how.cases(built.design), ...(best ? { first: best.judged.setBy } : {}) };
      const judged = judge(needs, built.design, cases, {
        ...how,
        ...(best ? { least: best.judged.value + BETTER } : {}),
      });
      return judged && { ...built, variables, judged };
    });
  };
  best = at(start);
  if (best === undefined) return undefined;
  const steps = Object.fromEntries(ORDER.map((name) => [name, 1])) as Record<VariableName, number>;
  const enough = (): boolean => best!.judged.value >= (how.enough ?? Infinity);
  while (points < how.points && how.cancelled?.() !== true && !enough()) {
    if (ORDER.every((name) => Math.abs(steps[name]) < FINEST)) break;
    for (const name of ORDER) {
      if (Math.abs(steps[name]) < FINEST) continue;
      const better = [steps[name], -steps[name]].some((step) => {
        const value = moved(limits[name], best!.variables[name], step);
        const next = value === undefined ? undefined : at({ ...best!.variables, [name]: value });
        if (next === undefined || next.judged.value < best!.judged.value + BETTER) return false;
        best = next;
        steps[name] = step;
        return true;
      });
      if (!better) steps[name] /= 2;
      if (enough()) break;
    }
  }
  return best;
}
