import { randomUUID } from 'node:crypto';
import type { ErrorBody } from './request-error.ts';
import type { Task, Progress, Answer } from './task.ts';

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

export interface Job {
  readonly id: string;
  readonly kind: string;
  readonly client: string;
  /** Undefined once the job has ended: it may hold large captures. */
  body: JobBody | undefined;
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

export const newJob = (kind: string, body: JobBody, client: string): Job => ({
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
});

export const isEnded = ({ state }: { readonly state: JobState }): boolean =>
  state !== 'queued' && state !== 'running';

export function viewOf(job: Job): JobView {
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

/** What the body of a job is given. */
export interface JobControl {
  /** Do one task within the job's time; rejects when the job is cancelled or over its time. */
  readonly run: (task: Task, progress?: Progress) => Promise<Answer>;
  /** Does a last short task, also of a job that was cancelled or is over its time: to keep what was done. */
  readonly finish: (task: Task) => Promise<Answer>;
  readonly threads: number;
  /** `parts`: what is done of the points that are being computed, in points. */
  readonly report: (done: number, planned: number, parts?: number) => void;
  /** Keep a result; the last one kept is what the client reads, also after a cancel. */
  readonly keep: (result: Uint8Array) => void;
  readonly stopped: () => boolean;
}

export type JobBody = (control: JobControl) => Promise<void>;

/** Tells all who watch a job what is seen of it now; after its end nobody watches it. */
export function tellWatchers(job: Job): void {
  const view = viewOf(job);
  for (const listener of job.listeners) listener(view);
  if (isEnded(job)) job.listeners.clear();
}

/** Ends a job and tells it. */
export function endJob(job: Job, state: JobState, error: ErrorBody | null): void {
  job.state = state;
  job.error = error;
  job.ended = Date.now();
  job.body = undefined;
  tellWatchers(job);
}
