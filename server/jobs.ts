import type { Job, JobBody, JobState, JobView } from './job.ts';
import { isEnded, newJob, viewOf } from './job.ts';
import { createJobLine } from './job-line.ts';
import { forgetOldest } from './job-shares.ts';
import type { Limits } from './limits.ts';
import type { Logger } from './logger.ts';
import { RequestError } from './request-error.ts';
import type { Runner } from './task.ts';

export interface JobStore {
  /** Throws RequestError with 503 when no job would be accepted of a client: asked before a request is read closely. */
  refuseWhenFull(client?: string): void;
  /** Accept a job; throws as refuseWhenFull. */
  start(kind: string, body: JobBody, client?: string): JobView;
  view(id: string): JobView;
  result(id: string): Uint8Array;
  /** Cancel a job that goes on; forget one that has ended. */
  remove(id: string): JobView;
  /** Called at once and at every change until the job has ended or the returned function is called. */
  watch(id: string, listener: (view: JobView) => void): () => void;
  readonly active: number;
  close(): Promise<void>;
}

export function createJobStore(runner: Runner, limits: Limits, logger: Logger): JobStore {
  const jobs = new Map<string, Job>();
  const line = createJobLine(runner, limits, logger, () => forgetOldest(jobs, limits));
  const find = (id: string): Job => {
    const job = jobs.get(id);
    if (job === undefined) throw new RequestError(404, UNKNOWN_JOB);
    return job;
  };
  return {
    refuseWhenFull: (client = '') => line.refuseWhenFull(client),
    get active() {
      return line.active;
    },
    start(kind, body, client = '') {
      line.refuseWhenFull(client);
      const job = newJob(kind, body, client);
      jobs.set(job.id, job);
      line.add(job);
      return viewOf(job);
    },
    view: (id) => viewOf(find(id)),
    result(id) {
      const job = find(id);
      if (job.result === undefined) throw new RequestError(409, noResultYet(job.state));
      return job.result;
    },
    remove(id) {
      const job = find(id);
      if (isEnded(job)) jobs.delete(id);
      else line.cancel(job);
      return viewOf(job);
    },
    watch(id, listener) {
      const job = find(id);
      listener(viewOf(job));
      if (!isEnded(job)) job.listeners.add(listener);
      return () => job.listeners.delete(listener);
    },
    close: () => line.close(),
  };
}

const UNKNOWN_JOB = {
  code: 'not-found',
  message: 'There is no job with this id; ended jobs are forgotten in time: start it again.',
};

const noResultYet = (state: JobState) => ({
  code: 'no-result-yet',
  message: `The job is ${state} and has no result to read: follow its events until it is done.`,
});
