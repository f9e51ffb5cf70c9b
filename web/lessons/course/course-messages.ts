import type { Moved, Weighed } from '../moved.ts';
import type { Exhibit, StepResult } from '../step.ts';

export interface CourseAsk {
  /** Of the step. */
  readonly id: string;
  /** What the reader has set on its board, where that is asked about. */
  readonly moved?: Moved;
}

/** What the course's worker is asked of a step. */
export interface CourseTasks {
  readonly exhibit: { readonly ask: CourseAsk; readonly piece: never; readonly answer: Exhibit };
  readonly result: { readonly ask: CourseAsk; readonly piece: never; readonly answer: StepResult };
  readonly weighed: { readonly ask: CourseAsk; readonly piece: never; readonly answer: Weighed };
}
