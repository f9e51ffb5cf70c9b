import type { Router } from 'express';
import type { Context } from '../context.ts';
import { outlookRequest, predictionRequestSchema } from '../prediction-input.ts';
import { priceNext } from '../price.ts';
import { readFrame } from '../study-request.ts';
import { jobRoutes, oneTask } from './job-routes.ts';

/** What to measure next, as jobs: the request of a prediction, a ranked list for an answer. */
export function nextCaptures(context: Context): Router {
  return jobRoutes(context, '/api/v1/next-captures', (body) => {
    const frame = readFrame(predictionRequestSchema, body);
    priceNext(outlookRequest(frame), context.limits);
    return { kind: 'next', body: oneTask({ kind: 'next', frame }) };
  });
}
