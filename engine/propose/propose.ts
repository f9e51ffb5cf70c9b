import { summariseProposals } from './answer.ts';
import type { Proposals } from './answer.ts';
import { runProposalJob } from './jobs.ts';
import type { JobResult, JobTools } from './jobs.ts';
import { nextJobs } from './plan.ts';
import { readProposalNeeds } from './read-proposal-needs.ts';

export interface ProposeOptions extends JobTools {
  /** Told after each job: how many of the jobs that are known so far are done. */
  readonly onProgress?: (done: number, planned: number, answer: () => Proposals) => void;
}

/**
 * Two to five builds that do all that is asked for at the worst corner, or what stands in the way. Each is proved by
 * the strobe window of exactly the file that is proposed. Cancelled, it answers from what was done and says so.
 *
 * @param raw a needs file: JSON, quantities as text with units
 * @throws DesignError for needs that make no sense, and for those of which no combination makes a design
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
