import { summariseProposals } from './answer.ts';
import type { Proposals } from './answer.ts';
import type { JobResult, ProposalJob } from './jobs.ts';
import type { Needs } from './needs.ts';
import { nextJobs, workAhead, workOf } from './plan.ts';

/** Where the jobs of a search are done, several at a time. */
export interface SearchPlaces {
  readonly places: number;
  /** Does one job; `told` hears the share of it that is done, 0..1. Rejects where it was stopped or failed. */
  readonly run: (job: ProposalJob, told: (share: number) => void) => Promise<JobResult>;
  readonly stopped: () => boolean;
  /** Told as work gets done, in parts of like size; `under` are parts of the jobs under way. More may turn up later. */
  readonly onProgress?: (done: number, planned: number, under: number) => void;
  /** Told after each job what is known by then. */
  readonly onAnswer?: (answer: Proposals) => void;
}

/**
 * The search of `propose` on other threads. Results stand in the order of their jobs, not in that of their ends, so the
 * answer is the same for any number of places. Stopped, it answers from the jobs that were done.
 */
export async function searchOn(needs: Needs, places: SearchPlaces): Promise<Proposals> {
  const results: JobResult[] = [];
  for (let jobs = nextJobs(needs, results); jobs.length > 0; jobs = nextJobs(needs, results)) {
    results.push(...(await doAll(needs, jobs, results, places)));
    if (places.stopped()) return summariseProposals(needs, results, false);
  }
  return summariseProposals(needs, results, true);
}

async function doAll(
  needs: Needs,
  jobs: readonly ProposalJob[],
  before: readonly JobResult[],
  { places, run, stopped, onProgress, onAnswer }: SearchPlaces,
): Promise<JobResult[]> {
  const done = new Map<number, JobResult>();
  const under = new Map<number, number>();
  const inOrder = (): JobResult[] => jobs.flatMap((_, i) => done.get(i) ?? []);
  const sum = (values: Iterable<number>): number => [...values].reduce((a, b) => a + b, 0);
  const earlier = sum(before.map(workOf));
  const planned = earlier + sum(jobs.map(workOf)) + workAhead(needs, jobs);
  const report = (): void =>
    onProgress?.(earlier + sum([...done.values()].map(workOf)), planned, sum(under.values()));
  let taken = 0;
  let failed = false;
  const line = async (): Promise<void> => {
    while (taken < jobs.length && !stopped() && !failed) {
      const i = taken++;
      const job = jobs[i]!;
      try {
        const told = (share: number): void => {
          under.set(i, share * workOf(job));
          report();
        };
        done.set(i, await run(job, told));
      } catch (error) {
        if (stopped()) return;
        failed = true;
        throw error;
      } finally {
        under.delete(i);
      }
      report();
      onAnswer?.(summariseProposals(needs, [...before, ...inOrder()], false));
    }
  };
  report();
  await Promise.all(Array.from({ length: Math.min(places, jobs.length) }, line));
  return inOrder();
}
