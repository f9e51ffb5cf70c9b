import { failedPoint, summarise } from '../../engine/index.ts';
import type { PointResult, StudyPlan, StudyRequest, StudyResult } from '../../engine/index.ts';
import type { FromStudyWorker, ToStudyWorker } from './study-messages.ts';

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

const MOST_WORKERS = 4;

export function createStudyRunner(callbacks: StudyCallbacks): StudyRunner {
  let workers: Worker[] = [];
  let plan: StudyPlan | undefined;
  let results: PointResult[] = [];
  let next = 0;
  let since = 0;
  /** What is done of the points under way, by worker. */
  const shares = new Map<Worker, number>();

  function stop(): void {
    for (const worker of workers) worker.terminate();
    workers = [];
  }

  function hire(onMessage: (message: FromStudyWorker, worker: Worker) => void, onLost: () => void): Worker {
    const worker = new Worker(new URL('./study-worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<FromStudyWorker>) =>
      onMessage(event.data, worker),
    );
    worker.addEventListener('error', () => {
      workers = workers.filter((other) => other !== worker);
      worker.terminate();
      onLost();
    });
    workers.push(worker);
    return worker;
  }

  const send = (worker: Worker, message: ToStudyWorker): void =>
    worker.postMessage(message, { transfer: [] });

  function begin(planned: StudyPlan, planner: Worker): void {
    plan = planned;
    results = [];
    next = 0;
    shares.clear();
    since = performance.now();
    callbacks.onPlanned(planned);
    callbacks.onProgress(0, planned.points.length, 0, 0);
    const spare = Math.max(1, (navigator.hardwareConcurrency || 2) - 1);
    const count = Math.min(MOST_WORKERS, spare, planned.points.length);
    give(planner, planned);
    for (let i = 1; i < count; i++) engage(planned);
  }

  /** Another worker of this plan; one that is lost costs its point, and another takes its place. */
  function engage(planned: StudyPlan): void {
    let index = -1;
    const worker = hire(
      (message) => {
        if (message.kind === 'share') hear(planned, worker, message.share);
        if (message.kind !== 'point') return;
        receive(planned, message.result, worker);
        index = give(worker, planned);
      },
      () => {
        if (index >= 0)
          receive(planned, failedPoint(planned, index, 'The worker that computed it ended.'), worker);
        if (next < planned.points.length) engage(planned);
      },
    );
    send(worker, { kind: 'take', plan: planned });
    index = give(worker, planned);
  }

  function give(worker: Worker, planned: StudyPlan): number {
    if (next >= planned.points.length) return -1;
    send(worker, { kind: 'point', index: next });
    return next++;
  }

  function receive(planned: StudyPlan, result: PointResult, worker: Worker): void {
    results.push(result);
    shares.delete(worker);
    tell(planned);
    if (results.length === planned.points.length) finish();
  }

  function hear(planned: StudyPlan, worker: Worker, share: number): void {
    shares.set(worker, share);
    tell(planned);
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

  return {
    start(request) {
      stop();
      plan = undefined;
      const planner = hire(
        (message) => {
          if (message.kind === 'planned') begin(message.plan, planner);
          else if (message.kind === 'refused') {
            stop();
            callbacks.onRefused(message.message, message.field);
          } else if (message.kind === 'share') {
            if (plan) hear(plan, planner, message.share);
          } else if (plan) {
            receive(plan, message.result, planner);
            if (plan) give(planner, plan);
          }
        },
        () => {
          stop();
          callbacks.onRefused('The worker that planned the study ended; start it again.', '');
        },
      );
      send(planner, { kind: 'plan', request });
    },
    cancel() {
      finish();
    },
  };
}
