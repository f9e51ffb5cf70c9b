import type { Job, JobState } from './job.ts';
import { endJob } from './job.ts';
import { chooseNext } from './job-shares.ts';
import { workOn } from './job-work.ts';
import type { Limits } from './limits.ts';
import type { Logger } from './logger.ts';
import { RequestError, toBody } from './request-error.ts';
import type { ErrorBody } from './request-error.ts';
import { CANCELLED, CLOSING, queueFull, shareTaken } from './task-failures.ts';
import type { Runner } from './task.ts';

/** Jobs that wait and jobs that go on; it says of a job what has come of it, and keeps none that has ended. */
export interface JobLine {
  readonly active: number;
  /** Throws RequestError with 503 where no job of this client would be accepted. */
  refuseWhenFull(client: string): void;
  add(job: Job): void;
  /** One that waits ends at once; one that goes on, as soon as its tasks have stopped. */
  cancel(job: Job): void;
  close(): Promise<void>;
}

/** @param onEnd called after each job that has ended */
export function createJobLine(runner: Runner, limits: Limits, logger: Logger, onEnd: () => void): JobLine {
  const queue: Job[] = [];
  const active = new Map<Job, Promise<void>>();
  let closing = false;

  const end = (job: Job, state: JobState, error: ErrorBody | null): void => {
    endJob(job, state, error);
    onEnd();
  };
  const work = async (job: Job): Promise<void> => {
    const { state, error } = await workOn(job, runner, limits, logger, () => closing);
    end(job, state, error);
  };
  const next = (): void => {
    if (closing) return;
    for (;;) {
      const job = chooseNext(queue, [...active.keys()], runner.threads);
      if (job === undefined) return;
      queue.splice(queue.indexOf(job), 1);
      const going = work(job).finally(() => {
        active.delete(job);
        next();
      });
      active.set(job, going);
    }
  };

  return {
    get active() {
      return active.size;
    },
    refuseWhenFull(client) {
      if (closing) throw new RequestError(503, CLOSING, { 'Retry-After': '5' });
      if (queue.length >= limits.jobQueue) throw queueFull('jobs', limits.jobQueue, 10);
      if (queue.filter((job) => job.client === client).length >= limits.jobShare)
        throw shareTaken('jobs', limits.jobShare, 10);
    },
    add(job) {
      queue.push(job);
      next();
    },
    cancel(job) {
      job.abort.abort();
      const place = queue.indexOf(job);
      if (place < 0) return;
      queue.splice(place, 1);
      end(job, 'cancelled', toBody(CANCELLED));
    },
    async close() {
      closing = true;
      for (const job of queue.splice(0)) end(job, 'cancelled', toBody(CLOSING));
      for (const job of active.keys()) job.abort.abort();
      await Promise.allSettled(active.values());
    },
  };
}
