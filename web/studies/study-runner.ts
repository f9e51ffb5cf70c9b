import type { PointResult, StudyPlan, StudyRequest, StudyResult } from '../../engine/studies/shared/shape.ts';
import { failedPoint, summarise } from '../../engine/studies/study.ts';
import { createWorkerClient, type WorkerClient } from '../compute/client.ts';
import type { StudyTasks } from './study-messages.ts';

export interface StudyCallbacks {
  readonly onPlanned: (plan: StudyPlan) => void;
  /** `left`: ms until the end at the pace so far; `part`: points done with the parts of those under way. */
  readonly onProgress: (done: number, total: number, left: number, part: number) => void;
  /** The whole study, or what was done of a cancelled one. */
  readonly onResult: (study: StudyResult) => void;
  readonly onRefused: (message: string, field: string) => void;
  /** Cancelled before the study was planned. */
  readonly onStopped: () => void;
}

/** A study in the browser's own workers; the numbers do not depend on how many there are. */
export interface StudyRunner {
  start(request: StudyRequest): void;
  /** Ends at once; what is done is kept and marked partial. */
  cancel(): void;
}

type StudyClient = WorkerClient<StudyTasks>;

const MAX_WORKERS = 4;

export function createStudyRunner(callbacks: StudyCallbacks): StudyRunner {
  let workers: StudyClient[] = [];
  let plan: StudyPlan | undefined;
  let results: PointResult[] = [];
  let next = 0;
  let since = 0;
  /** What is done of the points under way, by worker. */
  const shares = new Map<StudyClient, number>();

  function stop(): void {
    for (const worker of workers) worker.cancel();
    workers = [];
    shares.clear();
  }

  function hire(): StudyClient {
    const worker = createWorkerClient<StudyTasks>(
      () => new Worker(new URL('./study-worker.ts', import.meta.url), { type: 'module' }),
      { cutAfter: Infinity },
    );
    workers.push(worker);
    return worker;
  }

  function begin(planned: StudyPlan, planner: StudyClient): void {
    plan = planned;
    results = [];
    next = 0;
    since = performance.now();
    callbacks.onPlanned(planned);
    callbacks.onProgress(0, planned.points.length, 0, 0);
    const spare = Math.max(1, (navigator.hardwareConcurrency || 2) - 1);
    const count = Math.min(MAX_WORKERS, spare, planned.points.length);
    give(planner, planned);
    for (let i = 1; i < count; i++) engage(hire(), planned);
  }

  /** Tells a worker the plan, then gives it points. */
  function engage(worker: StudyClient, planned: StudyPlan): void {
    worker.ask('take', planned, {
      onAnswer: () => give(worker, planned),
      onFailed: ({ message }) => refuse(message, ''),
    });
  }

  function give(worker: StudyClient, planned: StudyPlan): void {
    if (next >= planned.points.length) return;
    const index = next++;
    worker.ask('point', index, {
      onPiece: (share) => {
        shares.set(worker, share);
        tell(planned);
      },
      onAnswer: (result) => {
        receive(planned, result, worker);
        if (plan) give(worker, planned);
      },
      // A worker that is lost costs its point; a fresh one takes up the next.
      onFailed: ({ message, lost }) => {
        receive(
          planned,
          failedPoint(planned, index, lost ? 'The worker that computed it ended.' : message),
          worker,
        );
        if (plan) engage(worker, planned);
      },
    });
  }

  function receive(planned: StudyPlan, result: PointResult, worker: StudyClient): void {
    results.push(result);
    shares.delete(worker);
    tell(planned);
    if (results.length === planned.points.length) finish();
  }

  function tell(planned: StudyPlan): void {
    const total = planned.points.length;
    const part = [...shares.values()].reduce((sum, share) => sum + share, results.length);
    const left = ((performance.now() - since) / part) * (total - part);
    callbacks.onProgress(results.length, total, left, part);
  }

  function finish(): void {
    stop();
    const planned = plan;
    plan = undefined;
    if (planned) callbacks.onResult(summarise(planned, results));
    else callbacks.onStopped();
  }

  function refuse(message: string, field: string): void {
    stop();
    plan = undefined;
    callbacks.onRefused(message, field);
  }

  return {
    start(request) {
      stop();
      plan = undefined;
      const planner = hire();
      planner.ask('plan', request, {
        onAnswer: (planned) => begin(planned, planner),
        onFailed: ({ message, field, lost }) =>
          refuse(lost ? 'The worker that planned the study ended; start it again.' : message, field),
      });
    },
    cancel: finish,
  };
}
