import { createWorkerClient, type WorkerClient } from '../../compute/client.ts';
import type { Moved, Weighed } from '../moved.ts';
import type { Exhibit, StepResult } from '../step.ts';
import type { CourseAsk, CourseTasks } from './course-messages.ts';

type Kind = keyof CourseTasks;
type AnswerOf<K extends Kind> = CourseTasks[K]['answer'];

interface Job {
  readonly kind: Kind;
  readonly asked: CourseAsk;
  readonly key: string;
  readonly done: (answer: AnswerOf<Kind>) => void;
  readonly failed: (error: Error) => void;
}

/** Each question once; one that failed is asked again. */
const known = new Map<string, Promise<AnswerOf<Kind>>>();
/** Not begun: what is waited for, and what nobody waits for yet. */
const urgent: Job[] = [];
const later: Job[] = [];

const hire = (): WorkerClient<CourseTasks> =>
  createWorkerClient<CourseTasks>(
    () => new Worker(new URL('./course-worker.ts', import.meta.url), { type: 'module' }),
    { cutAfter: Infinity },
  );
let ahead: WorkerClient<CourseTasks> | undefined;
let atOnce: WorkerClient<CourseTasks> | undefined;

function run(client: WorkerClient<CourseTasks>, { kind, asked, key, done, failed }: Job): void {
  client.ask(kind, asked, {
    onAnswer: (answer) => {
      done(answer);
      next();
    },
    onFailed: ({ message }) => {
      known.delete(key);
      failed(new Error(message));
      next();
    },
  });
}

/** A worker has one question at a time: it would drop what waits in it for something newer. */
function next(): void {
  if (ahead && !ahead.busy) {
    const job = urgent.shift() ?? later.shift();
    if (job) run(ahead, job);
  }
  if (urgent.length === 0) return;
  // The first is at something that nobody may wait for.
  atOnce ??= hire();
  if (!atOnce.busy) run(atOnce, urgent.shift()!);
}

function ask<K extends Kind>(kind: K, asked: CourseAsk, waitedFor: boolean): Promise<AnswerOf<K>> {
  const key = JSON.stringify([kind, asked]);
  const place = later.findIndex((job) => job.key === key);
  if (waitedFor && place >= 0) urgent.push(...later.splice(place, 1));
  const answer =
    known.get(key) ??
    new Promise<AnswerOf<Kind>>((done, failed) => {
      (waitedFor ? urgent : later).push({ kind, asked, key, done, failed });
    });
  known.set(key, answer);
  ahead ??= hire();
  next();
  return answer as Promise<AnswerOf<K>>;
}

/** What the engine says of a step of the course, computed beside the page, once; the reader waits for it. */
export const courseResult = (id: string): Promise<StepResult> => ask('result', { id }, true);

/** Computed while the reader still thinks; a failure is told when it is asked for. */
export const computeAhead = (id: string): void => void ask('result', { id }, false).catch(() => undefined);

/** What is seen of it before the question, likewise. */
export const courseExhibit = (id: string): Promise<Exhibit> => ask('exhibit', { id }, true);

/** What comes of what the reader has set. */
export const courseWeighed = (id: string, moved: Moved): Promise<Weighed> =>
  ask('weighed', { id, moved }, true);

/** The same while the reader still looks at it; what was set before and is not begun yet nobody will ask for. */
export function weighAhead(id: string, moved: Moved): void {
  for (const job of later.splice(0).filter((waiting) => keeps(waiting))) later.push(job);
  void ask('weighed', { id, moved }, false).catch(() => undefined);
}

function keeps({ kind, key }: Job): boolean {
  if (kind === 'weighed') known.delete(key);
  return kind !== 'weighed';
}
