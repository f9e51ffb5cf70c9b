import { DesignError, refused } from '../design/design-error.ts';
import { build } from './build.ts';
import { combinations } from './combinations.ts';
import type { Combination } from './combinations.ts';
import { runProposalJob } from './jobs.ts';
import type { JobResult, JobTools, ProposalJob, Proved } from './jobs.ts';
import type { Needs } from './needs.ts';
import { readNeeds } from './needs.ts';
import { leversFor } from './relax.ts';
import type { Relaxed } from './relax.ts';
import { nameProposals } from './choose.ts';
import { baseOf } from './start.ts';
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
  /**
   * short: it does not do what is asked for; not-shown: its own strobe window says so; beaten: another proposed build is
   * better in everything; more-lines: a mat with fewer lines does as well; not-searched: others promised more.
   */
  readonly why: 'short' | 'not-shown' | 'beaten' | 'more-lines' | 'not-searched';
}

/**
 * Needs of which at least one combination makes a design. Throws DesignError: what is wrong with the needs, or why none
 * of the combinations makes one.
 */
export function readProposalNeeds(raw: unknown): Needs {
  const needs = readNeeds(raw);
  let first: DesignError | undefined;
  for (const combination of combinations(needs)) {
    try {
      build(needs, combination, baseOf(needs));
      return needs;
    } catch (error) {
      if (!(error instanceof DesignError)) throw error;
      first ??= error;
    }
  }
  const why = first?.message ?? 'there are too few drivers for the lines of a mat and the bits of a word.';
  const field = first === undefined ? '/drivers/most' : first.field.replace(/^\/core/u, '/cores/0');
  throw refused([
    { code: 'rule', field, message: `These needs must make a design, but none of them do: ${why}` },
  ]);
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
  if (provedOf(results).length > 0 || results.some(({ step }) => step === 'relax')) return [];
  return worthRelaxing(results).flatMap(({ combination, variables }) =>
    leversFor(needs, combination).map(({ need }): ProposalJob => ({
      step: 'relax',
      needs: raw,
      combination,
      start: variables,
      lever: need,
    })),
  );
}

/** What came nearest, and what has the widest margin, where that is another: less current or time may be what it lacks. */
function worthRelaxing(results: readonly JobResult[]): readonly Proved[] {
  const near = nearest(results);
  if (near === undefined) return [];
  const all = found(results, 'refine');
  const widest = all.reduce((best, item) => (item.reserve > best.reserve ? item : best), near);
  return widest === near ? [near] : [near, widest];
}

/** A mat with more lines must be better by this to take the place of one with fewer. */
const WORTH_LINES = 0.05;

/** The best organisation for each winding, core and number of amplifiers; the best of those. */
function worthRefining(results: readonly JobResult[]): readonly Combination[] {
  const kinds = new Map<string, Proved>();
  const fewestFirst = [...found(results)].sort((a, b) => lines(a) - lines(b));
  for (const item of fewestFirst) {
    const kind = kindOf(item.combination);
    const before = kinds.get(kind);
    if (before === undefined || item.value > before.value + WORTH_LINES) kinds.set(kind, item);
  }
  return [...kinds.values()]
    .sort((a, b) => b.value - a.value)
    .slice(0, REFINED)
    .map(({ combination }) => combination);
}

const kindOf = ({ winding, core, amplifiers }: Combination): string => `${winding} ${core} ${amplifiers}`;

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
  const refined = found(results, 'refine');
  const like = new Set(refined.map(({ combination }) => kindOf(combination)));
  const rejected = [...refined, ...found(results, 'try')].flatMap((item, i): Rejected[] => {
    const key = JSON.stringify(item.combination);
    if (chosen.has(key) || seen.has(key)) return [];
    seen.add(key);
    const { combination, value, reserve, binding } = item;
    const isRefined = i < refined.length;
    const why = reasonOf(item, isRefined, like.has(kindOf(combination)));
    return [{ combination, value, reserve, binding, refined: isRefined, why }];
  });
  const relax = new Map<string, Relaxed>();
  for (const result of results) {
    if (result.step !== 'relax') continue;
    const before = relax.get(result.relaxed.need);
    if (before === undefined || easier(result.relaxed, before) < 0)
      relax.set(result.relaxed.need, result.relaxed);
  }
  return {
    met: proposals.length > 0,
    complete,
    proposals,
    rejected: rejected.sort((a, b) => Number(b.refined) - Number(a.refined) || b.value - a.value),
    nearest: proposals.length > 0 ? null : (nearest(results) ?? null),
    relax: [...relax.values()].sort(easier),
  };
}

function reasonOf({ value, proof }: Proved, refined: boolean, likeRefined: boolean): Rejected['why'] {
  if (value < 1) return 'short';
  if (!refined) return likeRefined ? 'more-lines' : 'not-searched';
  return proof?.verdict.design === 'reads' ? 'beaten' : 'not-shown';
}

/** The smaller change first; of those that do not help alone, what reaches more. */
const easier = (a: Relaxed, b: Relaxed): number =>
  (a.to === null || b.to === null ? Number(a.to === null) - Number(b.to === null) : effort(a) - effort(b)) ||
  b.best - a.best;

/** How far a need must move, over what it is or becomes. */
const effort = ({ to, from }: Relaxed): number =>
  from === 0 || to === null ? 1 : Math.abs(to - from) / Math.max(Math.abs(from), Math.abs(to));

export interface ProposeOptions extends JobTools {
  /** Told after each job: how many of the jobs that are known so far are done. */
  readonly onProgress?: (done: number, planned: number, answer: () => Proposals) => void;
}

/**
 * Two to five builds that do all that is asked for at the worst corner, or what stands in the way. Each is proved by
 * the strobe window of exactly the file that is proposed. Throws DesignError for needs that make no sense.
 */
export function propose(raw: unknown, options: ProposeOptions = {}): Proposals {
  const needs = readProposalNeeds(raw);
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
