import type { Proposals } from '../engine/propose/answer.ts';
import type { JobResult } from '../engine/propose/jobs.ts';
import type { Needs } from '../engine/propose/needs.ts';
import { proposalsJson } from '../engine/propose/proposals-json.ts';
import { searchOn } from '../engine/propose/search-on.ts';
import type { JobBody } from './job.ts';
import type { JobControl } from './job.ts';
import type { Answer } from './task.ts';

/** Builds from needs as a job: the parts of the search on all workers; what is known is kept at every end. */
export function proposalJob(needs: Needs): JobBody {
  return async (control) => {
    const keep = (answer: Proposals): void =>
      control.keep(new TextEncoder().encode(proposalsJson(needs, answer)));
    keep(await searchProposals(needs, control, keep));
  };
}

/** The search on all workers; stopped, the best of what was done. `onAnswer` is told what is known after each part. */
export function searchProposals(
  needs: Needs,
  { run, threads, report, stopped }: Pick<JobControl, 'run' | 'threads' | 'report' | 'stopped'>,
  onAnswer?: (answer: Proposals) => void,
): Promise<Proposals> {
  return searchOn(needs, {
    places: threads,
    run: async (job, told) => readResult(await run({ kind: 'proposal-part', job }, told)),
    stopped,
    onProgress: report,
    onAnswer,
  });
}

const readResult = ({ body }: Answer): JobResult => JSON.parse(new TextDecoder().decode(body)) as JobResult;
