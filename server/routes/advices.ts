import type { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Context } from '../context.ts';
import { priceAdvice } from '../price.ts';
import { jobRoutes, oneTask } from './job-routes.ts';

/** A window with advice as a job, for designs on which advice takes longer than an answer at once may. */
export function advices(context: Context): Router {
  return jobRoutes(context, '/api/v1/advices', (body) => {
    const design = checkDesign(body);
    priceAdvice(design, context.limits);
    return { kind: 'advice', body: oneTask({ kind: 'window', advice: true, format: 'json', design }) };
  });
}
