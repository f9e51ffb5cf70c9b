import { createWorkerClient } from '../../compute/client.ts';
import type { Evaluated } from './evaluated.ts';
import type { OwnStep } from './lesson.ts';
import type { LessonTasks } from './lesson-messages.ts';

/** What the engine says of a question, or in one sentence why it says nothing. */
export type Outcome =
  | { readonly kind: 'evaluated'; readonly evaluated: Evaluated }
  | { readonly kind: 'failed'; readonly message: string };

export interface Evaluator {
  /** One after the other in a worker; the same board and question are computed once. */
  evaluate(step: OwnStep): Promise<Outcome>;
}

export function createEvaluator(): Evaluator {
  const client = createWorkerClient<LessonTasks>(
    () => new Worker(new URL('./lesson-worker.ts', import.meta.url), { type: 'module' }),
    { cutAfter: Infinity },
  );
  const known = new Map<string, Promise<Outcome>>();
  let last: Promise<unknown> = Promise.resolve();
  const ask = (step: OwnStep): Promise<Outcome> =>
    new Promise((resolve) => {
      client.ask('evaluate', step, {
        onAnswer: (evaluated) => resolve({ kind: 'evaluated', evaluated }),
        onFailed: ({ message }) => resolve({ kind: 'failed', message }),
      });
    });
  return {
    evaluate(step) {
      const key = JSON.stringify([step.board, step.ask]);
      const found = known.get(key);
      if (found) return found;
      // The client drops what waits for something newer, so here each waits for the one before.
      const outcome = last.then(() => ask(step));
      last = outcome;
      known.set(key, outcome);
      return outcome;
    },
  };
}
