import { combinations } from './combinations.ts';
import type { Combination } from './combinations.ts';
import { runProposalJob } from './jobs.ts';
import type { JobResult, JobTools, ProposalJob, Proved } from './jobs.ts';
import type { Needs } from './needs.ts';
import { readNeeds } from './needs.ts';
import { leversFor } from './relax.ts';
import type { Relaxed } from './relax.ts';
import { nameProposals } from './choose.ts';
import type { Proposal } from './choose.ts';

/** Combinations that are searched in earnest: the best of each winding, core and number of amplifiers. */
const REFINED = 4;

export interface Proposals {
  /** Is there a build that does all that is asked for, shown by the strobe window of its own file? */
  readonly met: boolean;
  /** False where the search was stopped before its end. */
  readonly complete: boolean;
  readonly proposals: readonly Proposal[];
  /** Combinations that were tried and are not proposed, best first. */
  readonly rejected: readonly Rejected[];
  /** Where nothing is proposed: what came nearest, and the needs that stand in its way. */
  readonly nearest: Proved | null;
  readonly relax: readonly Relaxed[];
}

export interface Rejected extends Pick<Proved, 'combination' | 'value' | 'reserve' | 'binding'> {
  /** Was it searched in earnest, by the worst of all cases? Else `value` is an upper end. */
  readonly refined: boolean;
}

/**
 * What is to be done next, from what has been done: every combination tried, the best refined, and, where none of them
 * does all that is asked for, the needs relaxed one by one. Empty at the end. Jobs may be done in any order and anywhere.
 */
export function nextJobs(needs: Needs, results: readonly JobResult[]): readonly ProposalJob[] {
  const raw = needs.raw;
  if (results.length === 0)
    return combinations(needs).map((combination) => ({ step: 'try', needs: raw, combination }));
  if (!results.some(({ step }) => step === 'refine'))
    return worthRefining(results).map((combination) => ({ step: 'refine', needs: raw, combination }));
  const near = nearest(results);
  if (near === undefined || provedOf(results).length > 0 || results.some(({ step }) => step === 'relax'))
    return [];
  return leversFor(needs, near.combination).map(({ need }) => ({
    step: 'relax',
    needs: raw,
    combination: near.combination,
    start: near.variables,
    lever: need,
  }));
}

/** A mat with more lines must be better by this to take the place of one with fewer. */
const WORTH_LINES = 0.05;

/** The best organisation for each winding, core and number of amplifiers; the best of those. */
function worthRefining(results: readonly JobResult[]): readonly Combination[] {
  const kinds = new Map<string, Proved>();
  const fewestFirst = [...found(results)].sort((a, b) => lines(a) - lines(b));
  for (const item of fewestFirst) {
    const { winding, core, amplifiers } = item.combination;
    const kind = `${winding} ${core} ${amplifiers}`;
    const before = kinds.get(kind);
    if (before === undefined || item.value > before.value + WORTH_LINES) kinds.set(kind, item);
  }
  return [...kinds.values()]
    .sort((a, b) => b.value - a.value)
    .slice(0, REFINED)
    .map(({ combination }) => combination);
}

const lines = ({ combination }: Proved): number => combination.rows + combination.columns;

/** What was found, best first; of like value that which was tried first. */
function found(results: readonly JobResult[], step?: 'try' | 'refine'): readonly Proved[] {
  return results
    .flatMap((result) =>
      result.step === 'relax' || (step !== undefined && result.step !== step) || result.found === null
        ? []
        : [result.found],
    )
    .sort((a, b) => b.value - a.value);
}

/** Builds whose own window says that they do all that is asked for. */
const provedOf = (results: readonly JobResult[]): readonly Proved[] =>
  found(results, 'refine').filter(
    ({ proof, binding }) =>
      proof?.verdict.design === 'reads' && binding.every(({ excess }) => excess <= 1e-9),
  );

function nearest(results: readonly JobResult[]): Proved | undefined {
  return found(results, 'refine')[0] ?? found(results, 'try')[0];
}

/** The answer from whatever was done; results in the order of their jobs. */
export function summariseProposals(
  needs: Needs,
  results: readonly JobResult[],
  complete: boolean,
): Proposals {
  const proposals = nameProposals(needs, provedOf(results));
  const chosen = new Set(proposals.map(({ combination }) => JSON.stringify(combination)));
  const seen = new Set<string>();
  const rejected = [...found(results, 'refine'), ...found(results, 'try')].flatMap((item, i) => {
    const key = JSON.stringify(item.combination);
    if (chosen.has(key) || seen.has(key)) return [];
    seen.add(key);
    const { combination, value, reserve, binding } = item;
    return [{ combination, value, reserve, binding, refined: i < found(results, 'refine').length }];
  });
  const relax = results.flatMap((result) => (result.step === 'relax' ? [result.relaxed] : []));
  return {
    met: proposals.length > 0,
    complete,
    proposals,
    rejected: rejected.sort((a, b) => Number(b.refined) - Number(a.refined) || b.value - a.value),
    nearest: proposals.length > 0 ? null : (nearest(results) ?? null),
    relax: [...relax].sort((a, b) => effort(a) - effort(b) || b.best - a.best),
  };
}

/** How far a need must move, over what it is; those that do not help alone come last. */
const effort = ({ to, from }: Relaxed): number =>
  to === null ? Infinity : from === 0 ? 1 : Math.abs(to - from) / Math.max(Math.abs(from), Math.abs(to));

export interface ProposeOptions extends JobTools {
  /** Told after each job: how many of the jobs that are known so far are done. */
  readonly onProgress?: (done: number, planned: number, answer: () => Proposals) => void;
}

/**
 * Two to five builds that do all that is asked for at the worst corner, or what stands in the way. Each is proved by
 * the strobe window of exactly the file that is proposed. Throws DesignError for needs that make no sense.
 */
export function propose(raw: unknown, options: ProposeOptions = {}): Proposals {
  const needs = readNeeds(raw);
  const results: JobResult[] = [];
  for (let jobs = nextJobs(needs, results); jobs.length > 0; jobs = nextJobs(needs, results)) {
    const planned = results.length + jobs.length;
    for (const job of jobs) {
      const result = runProposalJob(job, options);
      if (options.cancelled?.() === true) return summariseProposals(needs, results, false);
      results.push(result);
      const known = [...results];
      options.onProgress?.(results.length, planned, () => summariseProposals(needs, known, false));
    }
  }
  return summariseProposals(needs, results, true);
}
