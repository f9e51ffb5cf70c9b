import type { PointResult, StudyPlan, StudyRequest } from '../../engine/studies/shared/shape.ts';

export interface StudyTasks {
  readonly plan: { readonly ask: StudyRequest; readonly piece: never; readonly answer: StudyPlan };
  /** Another worker's plan, of which points follow. */
  readonly take: { readonly ask: StudyPlan; readonly piece: never; readonly answer: undefined };
  /** A point by its index in the plan; told on the way: what is done of it, 0..1. */
  readonly point: { readonly ask: number; readonly piece: number; readonly answer: PointResult };
}
