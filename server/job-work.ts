import type { Job, JobControl, JobState } from './job.ts';
import { tellWatchers } from './job.ts';
import type { Limits } from './limits.ts';
import type { Logger } from './logger.ts';
import { RequestError, toBody, toRequestError } from './request-error.ts';
import type { ErrorBody } from './request-error.ts';
import { CANCELLED, CLOSING, INTERNAL, timeLimitFailure } from './task-failures.ts';
import type { Runner, Task } from './task.ts';

/** What has come of a job. */
interface Ended {
  readonly state: JobState;
  readonly error: ErrorBody | null;
}

/** Runs a job's body to its end, its cancel or its time limit; never rejects. */
export async function workOn(
  job: Job,
  runner: Runner,
  limits: Limits,
  logger: Logger,
  closing: () => boolean,
): Promise<Ended> {
  job.state = 'running';
  job.began = Date.now();
  tellWatchers(job);
  let overTime = false;
  const timer = setTimeout(() => {
    overTime = true;
    job.abort.abort();
  }, limits.jobTime);
  const { signal } = job.abort;
  try {
    await job.body?.(controlOf(job, runner, limits.jobTime, closing));
    if (signal.aborted) throw new RequestError(409, CANCELLED);
    return { state: 'done', error: null };
  } catch (error) {
    if (overTime) return { state: 'failed', error: toBody(timeLimitFailure(limits.jobTime)) };
    if (signal.aborted) return { state: 'cancelled', error: toBody(CANCELLED) };
    const refusal = toRequestError(error);
    if (refusal === undefined) logger.error({ err: error }, 'job fault');
    return { state: 'failed', error: refusal?.body ?? toBody(INTERNAL) };
  } finally {
    clearTimeout(timer);
  }
}

/** What the body of a job may do. */
function controlOf(job: Job, runner: Runner, timeLimit: number, closing: () => boolean): JobControl {
  const { signal } = job.abort;
  const options = (task: Task) => ({ timeLimit, client: job.client, long: !PARTS.has(task.kind) });
  return {
    threads: runner.threads,
    stopped: () => signal.aborted,
    run: (task, progress) => runner.run(task, { ...options(task), signal, progress }),
    finish: async (task) => {
      // Nobody will read it.
      if (closing()) throw new RequestError(503, CLOSING);
      return runner.run(task, options(task));
    },
    keep: (result) => (job.result = result),
    report: (done, planned, parts = 0) => {
      job.done = done;
      job.parts = parts;
      job.planned = planned;
      tellWatchers(job);
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
