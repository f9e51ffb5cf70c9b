import { combinations } from './combinations.ts';
import type { JobResult, ProposalJob } from './jobs.ts';
import type { Proved } from './prove.ts';
import type { Needs } from './needs.ts';
import { nameProposals } from './choose.ts';
import { leversFor } from './relax.ts';
import type { Relaxed } from './relax.ts';
import { found, kindOf, nearest, provedOf } from './results.ts';

/** Combinations that are searched in earnest: the best of each winding, core and number of amplifiers. */
export const MOST_REFINED = 4;

/**
 * What is to be done next, from what has been done: every combination tried, the best refined, and, where none of them
 * does all that is asked for, the needs relaxed one by one. Empty at the end. Jobs may be done in any order and anywhere.
 */
export function nextJobs(needs: Needs, results: readonly JobResult[]): readonly ProposalJob[] {
  const raw = needs.raw;
  if (results.length === 0)
    return combinations(needs).map((combination) => ({ step: 'try', needs: raw, combination }));
  if (!results.some(({ step }) => step === 'refine'))
    return worthRefining(results).map(({ combination, variables: start }) => ({
      step: 'refine',
      needs: raw,
      combination,
      start,
    }));
  const proposed = nameProposals(needs, provedOf(results));
  if (proposed.length > 0) {
    if (results.some(({ step }) => step === 'move')) return [];
    return proposed.map((found): ProposalJob => ({
      step: 'move',
      needs: raw,
      combination: found.combination,
      found,
    }));
  }
  const relaxed = results.flatMap((result) => (result.step === 'relax' ? [result.relaxed] : []));
  if (relaxed.length > 0) return pairsOf(needs, results, relaxed);
  return worthRelaxing(results).flatMap(({ combination, variables, setBy }) =>
    leversFor(needs, combination).map(({ need }): ProposalJob => ({
      step: 'relax',
      needs: raw,
      combination,
      start: { variables, setBy },
      lever: need,
    })),
  );
}

/** Needs of which pairs are tried where none of them is enough alone: those that bring most. */
const PAIRED = 3;

/** Pairs of the needs that bring most, where no need alone is enough and no pair has been tried; of what came nearest. */
function pairsOf(
  needs: Needs,
  results: readonly JobResult[],
  relaxed: readonly Relaxed[],
): readonly ProposalJob[] {
  const near = nearest(results);
  if (near === undefined || relaxed.some(({ to, also }) => to !== null || also !== undefined)) return [];
  const best = [...relaxed].sort((a, b) => b.best - a.best).map(({ need }) => need);
  const [a, b, c] = [...new Set(best)].slice(0, PAIRED);
  return (
    [
      [a, b],
      [a, c],
      [b, c],
    ] as const
  ).flatMap(([lever, also]): ProposalJob[] =>
    lever === undefined || also === undefined
      ? []
      : [
          {
            step: 'relax',
            needs: needs.raw,
            combination: near.combination,
            start: { variables: near.variables, setBy: near.setBy },
            lever,
            also,
          },
        ],
  );
}

/** What came nearest, and what has the widest margin, where that is another: less current or time may be what it lacks. */
function worthRelaxing(results: readonly JobResult[]): readonly Proved[] {
  const near = nearest(results);
  // One that has the reserve lacks what its window found beside it: by the reserve, any need would seem to be enough.
  if (near === undefined || near.value >= 1) return [];
  const all = found(results, 'refine');
  const widest = all.reduce((best, item) => (item.reserve > best.reserve ? item : best), near);
  return widest === near ? [near] : [near, widest];
}

/** A mat with more lines must be better by this to take the place of one with fewer. */
const WORTH_LINES = 0.05;

/** The best organisation for each winding, core and number of amplifiers; the best of those. */
function worthRefining(results: readonly JobResult[]): readonly Proved[] {
  const kinds = new Map<string, Proved>();
  const fewestFirst = [...found(results)].sort((a, b) => lines(a) - lines(b));
  for (const item of fewestFirst) {
    const kind = kindOf(item.combination);
    const before = kinds.get(kind);
    if (before === undefined || item.value > before.value + WORTH_LINES) kinds.set(kind, item);
  }
  return [...kinds.values()].sort((a, b) => b.value - a.value).slice(0, MOST_REFINED);
}

const lines = ({ combination }: Proved): number => combination.rows + combination.columns;

/** About how long the steps take against each other, measured on mats of 2 × 2 and 16 × 16. */
const WORK = { try: 1, refine: 16, relax: 4, move: 4 } as const;

export const workOf = ({ step }: Pick<ProposalJob, 'step'>): number => WORK[step];

/** Runs that a step takes, about: to tell how far it is, and its price. Counted on the same mats. */
export const RUNS_OF = { try: 128, refine: 3000, relax: 800, move: 800 } as const;

/** Work that is sure to come after these jobs, as far as it is known. */
export function workAhead(needs: Needs, jobs: readonly ProposalJob[]): number {
  if (!jobs.some(({ step }) => step === 'try')) return 0;
  const kinds = new Set(combinations(needs).map(kindOf));
  return Math.min(MOST_REFINED, kinds.size) * (WORK.refine + WORK.move);
}
