import { createWorkerClient } from '../../compute/client.ts';
import type { Exhibit, StepResult } from '../step.ts';
import type { CourseTasks } from './course-messages.ts';

interface CourseClient {
  readonly exhibit: (id: string) => Promise<Exhibit>;
  readonly result: (id: string) => Promise<StepResult>;
}

function createCourseClient(): CourseClient {
  const client = createWorkerClient<CourseTasks>(
    () => new Worker(new URL('./course-worker.ts', import.meta.url), { type: 'module' }),
    { cutAfter: Infinity },
  );
  let last: Promise<unknown> = Promise.resolve();
  /** The client drops what waits for something newer, so here each waits for the one before; one that failed is asked again. */
  const inTurn = <K extends keyof CourseTasks>(
    kind: K,
  ): ((id: string) => Promise<CourseTasks[K]['answer']>) => {
    const known = new Map<string, Promise<CourseTasks[K]['answer']>>();
    return (id) => {
      const found = known.get(id);
      if (found) return found;
      const asked = last.then(
        () =>
          new Promise<CourseTasks[K]['answer']>((resolve, reject) => {
            client.ask(kind, id, {
              onAnswer: resolve,
              onFailed: ({ message }) => {
                known.delete(id);
                reject(new Error(message));
              },
            });
          }),
      );
      last = asked.catch(() => undefined);
      known.set(id, asked);
      return asked;
    };
  };
  return { exhibit: inTurn('exhibit'), result: inTurn('result') };
}

let client: CourseClient | undefined;
const hired = (): CourseClient => (client ??= createCourseClient());

/** What the engine says of a step of the course, computed beside the page, once. */
export const courseResult = (id: string): Promise<StepResult> => hired().result(id);

/** What is seen of it before the question, likewise. */
export const courseExhibit = (id: string): Promise<Exhibit> => hired().exhibit(id);
