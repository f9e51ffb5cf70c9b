import type { Evaluated } from './evaluated.ts';
import type { OwnStep } from './lesson.ts';

export interface LessonTasks {
  /** A step with the value of its varied input in place. */
  readonly evaluate: { readonly ask: OwnStep; readonly piece: never; readonly answer: Evaluated };
}
