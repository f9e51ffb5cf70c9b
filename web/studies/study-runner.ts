import type { PointResult, StudyPlan, StudyRequest, StudyResult } from '../../engine/studies/shared/shape.ts';
import { failedPoint, summarise } from '../../engine/studies/study.ts';
import { createWorkerClient, type WorkerClient } from '../compute/client.ts';
import { workerPlaces } from '../compute/places.ts';
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

/** A study that is being computed. */
interface Underway {
  readonly plan: StudyPlan;
  readonly results: PointResult[];
  /** What is done of the points under way, by worker. */
  readonly shares: Map<StudyClient, number>;
  /** Place of the next point to give out. */
  next: number;
  /** ms, when its first point was given out. */
  readonly since: number;
}

export function createStudyRunner(callbacks: StudyCallbacks): StudyRunner {
  const crew = createCrew();
  let underway: Underway | undefined;

  function begin(plan: StudyPlan, planner: StudyClient): void {
    const study = { plan, results: [], shares: new Map(), next: 0, since: performance.now() };
    underway = study;
    callbacks.onPlanned(plan);
    callbacks.onProgress(0, plan.points.length, 0, 0);
    const points = givePoints(study, {
      isOn: () => underway === study,
      onChange: () => callbacks.onProgress(...progressOf(study)),
      onAll: finish,
      onRefused: (message) => refuse(message, ''),
    });
    points.give(planner);
    const count = Math.min(workerPlaces(), plan.points.length);
    for (let i = 1; i < count; i++) points.engage(crew.hire());
  }

  function finish(): void {
    crew.dismiss();
    const study = underway;
    underway = undefined;
    if (study) callbacks.onResult(summarise(study.plan, study.results));
    else callbacks.onStopped();
  }

  function refuse(message: string, field: string): void {
    crew.dismiss();
    underway = undefined;
    callbacks.onRefused(message, field);
  }

  return {
    start(request) {
      crew.dismiss();
      underway = undefined;
      const planner = crew.hire();
      planner.ask('plan', request, {
        onAnswer: (plan) => begin(plan, planner),
        onFailed: ({ message, field, lost }) =>
          refuse(lost ? 'The worker that planned the study ended; start it again.' : message, field),
      });
    },
    cancel: finish,
  };
}

/** The workers of one study. */
function createCrew() {
  let workers: StudyClient[] = [];
  return {
    hire(): StudyClient {
      const worker = createWorkerClient<StudyTasks>(
        () => new Worker(new URL('./study-worker.ts', import.meta.url), { type: 'module' }),
        { cutAfter: Infinity },
      );
      workers.push(worker);
      return worker;
    },
    dismiss(): void {
      for (const worker of workers) worker.cancel();
      workers = [];
    },
  };
}

interface PointCallbacks {
  /** False once the study was ended. */
  readonly isOn: () => boolean;
  readonly onChange: () => void;
  readonly onAll: () => void;
  readonly onRefused: (message: string) => void;
}

/** Gives each worker one point after the other until none is left. */
function givePoints(study: Underway, { isOn, onChange, onAll, onRefused }: PointCallbacks) {
  const { plan, results, shares } = study;

  /** Tells a worker the plan, then gives it points. */
  function engage(worker: StudyClient): void {
    worker.ask('take', plan, {
      onAnswer: () => give(worker),
      onFailed: ({ message }) => onRefused(message),
    });
  }

  function give(worker: StudyClient): void {
    if (study.next >= plan.points.length) return;
    const index = study.next++;
    worker.ask('point', index, {
      onPiece: (share) => {
        shares.set(worker, share);
        onChange();
      },
      onAnswer: (result) => {
        receive(result, worker);
        if (isOn()) give(worker);
      },
      // A worker that is lost costs its point; a fresh one takes up the next.
      onFailed: ({ message, lost }) => {
        receive(failedPoint(plan, index, lost ? 'The worker that computed it ended.' : message), worker);
        if (isOn()) engage(worker);
      },
    });
  }

  function receive(result: PointResult, worker: StudyClient): void {
    results.push(result);
    shares.delete(worker);
    onChange();
    if (results.length === plan.points.length) onAll();
  }

  return { engage, give };
}

/** Points done and planned, ms until the end at the pace so far, and points done with the parts of those under way. */
function progressOf({ plan, results, shares, since }: Underway): [number, number, number, number] {
  const total = plan.points.length;
  const part = [...shares.values()].reduce((sum, share) => sum + share, results.length);
  const left = ((performance.now() - since) / part) * (total - part);
  return [results.length, total, left, part];
}
