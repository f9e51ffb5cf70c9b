import { randomUUID } from 'node:crypto';
import type { Job, JobBody, JobState, JobView } from './job.ts';
import { isEnded, viewOf } from './job.ts';
import { chooseNext, forgetOldest } from './job-shares.ts';
import type { Limits } from './limits.ts';
import type { Logger } from './logger.ts';
import type { Runner, Task } from './task.ts';
import { RequestError, toBody, toRequestError } from './request-error.ts';
import type { ErrorBody } from './request-error.ts';
import { CANCELLED, CLOSING, INTERNAL, queueFull, shareTaken, timeLimitFailure } from './task-failures.ts';

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
  const queue: Job[] = [];
  const active = new Map<Job, Promise<void>>();
  let closing = false;

  const tell = (job: Job): void => {
    const view = viewOf(job);
    for (const listener of job.listeners) listener(view);
    if (isEnded(job)) job.listeners.clear();
  };

  const end = (job: Job, state: JobState, error: ErrorBody | null): void => {
    job.state = state;
    job.error = error;
    job.ended = Date.now();
    job.body = undefined;
    tell(job);
    forgetOldest(jobs, limits);
  };

  const work = async (job: Job): Promise<void> => {
    job.state = 'running';
    job.began = Date.now();
    tell(job);
    let overTime = false;
    const timer = setTimeout(() => {
      overTime = true;
      job.abort.abort();
    }, limits.jobTime);
    const { signal } = job.abort;
    try {
      await job.body?.({
        threads: runner.threads,
        stopped: () => signal.aborted,
        run: (task, progress) =>
          runner.run(task, {
            signal,
            timeLimit: limits.jobTime,
            progress,
            client: job.client,
            long: !PARTS.has(task.kind),
          }),
        finish: async (task) => {
          // Nobody will read it.
          if (closing) throw new RequestError(503, CLOSING);
          return runner.run(task, {
            timeLimit: limits.jobTime,
            client: job.client,
            long: !PARTS.has(task.kind),
          });
        },
        keep: (result) => (job.result = result),
        report: (done, planned, parts = 0) => {
          job.done = done;
          job.parts = parts;
          job.planned = planned;
          tell(job);
        },
      });
      if (signal.aborted) throw new RequestError(409, CANCELLED);
      end(job, 'done', null);
    } catch (error) {
      if (overTime) end(job, 'failed', toBody(timeLimitFailure(limits.jobTime)));
      else if (signal.aborted) end(job, 'cancelled', toBody(CANCELLED));
      else {
        const refusal = toRequestError(error);
        if (refusal === undefined) logger.error({ err: error }, 'job fault');
        end(job, 'failed', refusal?.body ?? toBody(INTERNAL));
      }
    } finally {
      clearTimeout(timer);
    }
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

  const find = (id: string): Job => {
    const job = jobs.get(id);
    if (job !== undefined) return job;
    throw new RequestError(404, {
      code: 'not-found',
      message: 'There is no job with this id; ended jobs are forgotten in time: start it again.',
    });
  };

  const refuseWhenFull = (client = ''): void => {
    if (closing) throw new RequestError(503, CLOSING, { 'Retry-After': '5' });
    if (queue.length >= limits.jobQueue) throw queueFull('jobs', limits.jobQueue, 10);
    if (queue.filter((job) => job.client === client).length >= limits.jobShare)
      throw shareTaken('jobs', limits.jobShare, 10);
  };

  return {
    refuseWhenFull,
    get active() {
      return active.size;
    },
    start(kind, body, client = '') {
      refuseWhenFull(client);
      const job: Job = {
        id: randomUUID(),
        kind,
        client,
        body,
        abort: new AbortController(),
        listeners: new Set(),
        state: 'queued',
        done: 0,
        planned: 0,
        parts: 0,
        began: 0,
        ended: 0,
        result: undefined,
        error: null,
      };
      jobs.set(job.id, job);
      queue.push(job);
      next();
      return viewOf(job);
    },
    view: (id) => viewOf(find(id)),
    result(id) {
      const job = find(id);
      if (job.result !== undefined) return job.result;
      throw new RequestError(409, {
        code: 'no-result-yet',
        message: `The job is ${job.state} and has no result to read: follow its events until it is done.`,
      });
    },
    remove(id) {
      const job = find(id);
      if (isEnded(job)) {
        jobs.delete(id);
        return viewOf(job);
      }
      job.abort.abort();
      const place = queue.indexOf(job);
      if (place >= 0) {
        queue.splice(place, 1);
        end(job, 'cancelled', toBody(CANCELLED));
      }
      return viewOf(job);
    },
    watch(id, listener) {
      const job = find(id);
      listener(viewOf(job));
      if (!isEnded(job)) job.listeners.add(listener);
      return () => job.listeners.delete(listener);
    },
    async close() {
      closing = true;
      for (const job of queue.splice(0)) end(job, 'cancelled', toBody(CLOSING));
      for (const job of active.keys()) job.abort.abort();
      await Promise.allSettled(active.values());
    },
  };
}

/** Tasks of which a job has many: between two of them others get their turn. */
const PARTS: ReadonlySet<Task['kind']> = new Set([
  'plan-study',
  'study-point',
  'study-result',
  'proposal-part',
]);
