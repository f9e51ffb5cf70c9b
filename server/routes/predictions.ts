import type { Router } from 'express';
import type { Context } from '../context.ts';
import { outlookRequest, predictionRequestSchema } from '../prediction-input.ts';
import { priceOutlook } from '../price.ts';
import { readFrame } from '../study-request.ts';
import { jobRoutes, oneTask } from './job-routes.ts';

/** Predictions with intervals as jobs: from what a fit told, or from a design alone. */
export function predictions(context: Context): Router {
  return jobRoutes(context, '/api/v1/predictions', (body) => {
    const frame = readFrame(predictionRequestSchema, body);
    priceOutlook(outlookRequest(frame), context.limits);
    return { kind: 'predict', body: oneTask({ kind: 'predict', frame }) };
  });
}
