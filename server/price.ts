import type { Design, StudyPlan } from '../engine/index.ts';
import { checkDesign, predictWork, WINDOW_RUNS } from '../engine/index.ts';
import { RequestError } from './request-error.ts';

/** Refuses work whose price is above the limit, before anything is queued. */
export function priceDesign(design: Design, kind: 'simulate' | 'window', limit: number): void {
  refuseDear(predictWork(design) * (kind === 'window' ? WINDOW_RUNS : 1), limit);
}

/** The price of `runs` runs of a design, refused above the limit. */
export function refuseDear(work: number, limit: number): void {
  if (work <= limit) return;
  throw new RequestError(422, {
    code: 'too-expensive',
    message: `The work must be at most ${limit} class-steps (cores that differ × steps × runs); this asks for ${Math.ceil(work)}: make the mat, the history, the study or the resolution smaller.`,
    limit,
  });
}

/** The price of a study's plan. Its points may change the mat, so each is priced as the design it is made from. */
export function refuseStudy(plan: StudyPlan, limit: number): void {
  refuseDear(plan.runs * predictWork(checkDesign(plan.design)), limit);
}
