import type { Exhibit, StepResult } from '../step.ts';

/** What the course's worker is asked: of a step, by its id. */
export interface CourseTasks {
  readonly exhibit: { readonly ask: string; readonly piece: never; readonly answer: Exhibit };
  readonly result: { readonly ask: string; readonly piece: never; readonly answer: StepResult };
}
