import { randomUUID } from 'node:crypto';
import type { Limits } from './limits.ts';
import type { Logger } from './logger.ts';
import type { Answer, Progress, Runner, Task } from './task.ts';
import { RequestError, toBody, toRequestError } from './request-error.ts';
import type { ErrorBody } from './request-error.ts';
import { CANCELLED, CLOSING, INTERNAL, queueFull, timeLimitFailure } from './task-failures.ts';

export type JobState = 'queued' | 'running' | 'done' | 'cancelled' | 'failed';

/** What a client sees of a job; `result` and `events` are addresses below it. */
export interface JobView {
  readonly id: string;
  readonly kind: string;
  readonly state: JobState;
  /** Points, iterations or faults done and planned (of a fit: at most); planned is 0 until that is known. */
  readonly done: number;
  readonly planned: number;
  /** Share of the points that is done, 0..1, with the parts of those that are being computed. */
  readonly share: number;
  /** s since the job began. */
  readonly elapsed: number;
  /** s still needed at the pace so far; null before anything is done. */
  readonly remaining: number | null;
  /** Is there something to read at `result`? A cancelled or failed job keeps what was done, marked partial. */
  readonly hasResult: boolean;
  readonly error: ErrorBody | null;
}

/** What the body of a job is given. */
export interface JobControl {
  /** Do one task within the job's time; rejects when the job is cancelled or over its time. */
  readonly run: (task: Task, progress?: Progress) => Promise<Answer>;
  readonly threads: number;
  /** `parts`: what is done of the points that are being computed, in points. */
  readonly report: (done: number, planned: number, parts?: number) => void;
  /** Keep a result; the last one kept is what the client reads, also after a cancel. */
  readonly keep: (result: Uint8Array) => void;
  readonly stopped: () => boolean;
}

export type JobBody = (control: JobControl) => Promise<void>;

export interface JobStore {
  /** Throws RequestError with 503 when no job would be accepted: asked before a request is read closely. */
  refuseWhenFull(): void;
  /** Accept a job; throws as refuseWhenFull. */
  start(kind: string, body: JobBody): JobView;
  view(id: string): JobView;
  result(id: string): Uint8Array;
  /** Cancel a job that goes on; forget one that has ended. */
  remove(id: string): JobView;
  /** Called at once and at every change until the job has ended or the returned function is called. */
  watch(id: string, listener: (view: JobView) => void): () => void;
  readonly active: number;
  close(): Promise<void>;
}

interface Job {
  readonly id: string;
  readonly kind: string;
  readonly body: JobBody;
  readonly abort: AbortController;
  readonly listeners: Set<(view: JobView) => void>;
  state: JobState;
  done: number;
  planned: number;
  parts: number;
  began: number;
  ended: number;
  result: Uint8Array | undefined;
  error: ErrorBody | null;
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
    tell(job);
    forgetOldest(jobs, limits.jobsKept);
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
      await job.body({
        threads: runner.threads,
        stopped: () => signal.aborted,
        run: (task, progress) => runner.run(task, { signal, timeLimit: limits.jobTime, progress }),
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
    for (const job of queue.splice(0, Math.max(0, runner.threads - active.size))) {
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

  const refuseWhenFull = (): void => {
    if (closing) throw new RequestError(503, CLOSING, { 'Retry-After': '5' });
    if (queue.length >= limits.jobQueue) throw queueFull('jobs', limits.jobQueue, 10);
  };

  return {
    refuseWhenFull,
    get active() {
      return active.size;
    },
    start(kind, body) {
      refuseWhenFull();
      const job: Job = {
        id: randomUUID(),
        kind,
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

export const isEnded = ({ state }: { readonly state: JobState }): boolean =>
  state !== 'queued' && state !== 'running';

function viewOf(job: Job): JobView {
  const { id, kind, state, done, planned, parts, error } = job;
  const share = planned === 0 ? 0 : (done + parts) / planned;
  const elapsed = job.began === 0 ? 0 : ((isEnded(job) ? job.ended : Date.now()) - job.began) / 1000;
  const remaining = share === 0 || isEnded(job) ? null : (elapsed * (1 - share)) / share;
  return {
    id,
    kind,
    state,
    done,
    planned,
    share,
    elapsed,
    remaining,
    hasResult: job.result !== undefined,
    error,
  };
}

function forgetOldest(jobs: Map<string, Job>, kept: number): void {
  const ended = [...jobs.values()].filter(isEnded).sort((a, b) => a.ended - b.ended);
  for (const job of ended.slice(0, Math.max(0, ended.length - kept))) jobs.delete(job.id);
}
