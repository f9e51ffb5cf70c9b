import type { PointResult, StudyPlan, StudyRequest } from '../../engine/index.ts';

export type ToStudyWorker =
  | { readonly kind: 'plan'; readonly request: StudyRequest }
  | { readonly kind: 'take'; readonly plan: StudyPlan }
  | { readonly kind: 'point'; readonly index: number };

export type FromStudyWorker =
  | { readonly kind: 'planned'; readonly plan: StudyPlan }
  | { readonly kind: 'refused'; readonly message: string; readonly field: string }
  | { readonly kind: 'point'; readonly result: PointResult }
  /** What is done of the point that is being computed, 0..1. */
  | { readonly kind: 'share'; readonly share: number };
