import { predictCost } from '../estimates/cost.ts';
import type { Price } from '../estimates/cost.ts';
import { build, orRefused } from './build.ts';
import { combinations } from './combinations.ts';
import type { Combination } from './combinations.ts';
import type { Needs } from './needs.ts';
import { MOST_REFINED, RUNS_OF } from './plan.ts';
import { leversFor } from './relax.ts';
import { baseOf } from './start.ts';

/** Runs of a search take longer steps and end with the read: this part of the price of a whole cycle. */
const PART_OF_A_CYCLE = 0.4;

/**
 * What a search is priced at before it begins, by the builds that it starts from: every combination tried, the dearest
 * refined, and every need relaxed on two builds, whether or not that will be asked for. `samples` are those of its
 * longest run.
 */
export function searchPrice(needs: Needs): Price {
  const all = combinations(needs);
  // The same mat costs about the same in every winding, and a build takes its time.
  const ofMat = new Map<string, Price>();
  const prices = all.map((combination) => {
    const mat = `${combination.rows} ${combination.columns}`;
    const known = ofMat.get(mat) ?? priceOfRun(needs, combination);
    ofMat.set(mat, known);
    return known;
  });
  const works = prices.map(({ work }) => work).sort((a, b) => b - a);
  const sum = (items: readonly number[]): number => items.reduce((total, work) => total + work, 0);
  const levers = all.length === 0 ? 0 : leversFor(needs, all[0]!).length;
  const runs =
    RUNS_OF.try * sum(works) +
    (RUNS_OF.refine + RUNS_OF.move) * sum(works.slice(0, MOST_REFINED)) +
    RUNS_OF.relax * (levers * sum(works.slice(0, 2)) + 3 * sum(works.slice(0, 1)));
  return { work: PART_OF_A_CYCLE * runs, samples: Math.max(0, ...prices.map(({ samples }) => samples)) };
}

const priceOfRun = (needs: Needs, combination: Combination): Price =>
  orRefused(() => predictCost(build(needs, combination, baseOf(needs)).design)) ?? { work: 0, samples: 0 };
