import { Router } from 'express';
import { checkDesign } from '../../engine/index.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { oneOf, refuseOtherParameters } from '../query.ts';
import { readJson } from '../read-body.ts';
import { answerTask } from './run-single.ts';

/** POST a design, get its traces. */
export function simulations(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readJson(context.limits.jsonBytes), async (request, response) => {
      refuseOtherParameters(request, ['format', 'contributions', 'estimateError', 'spectrum']);
      await answerTask(context, response, {
        kind: 'simulate',
        format: oneOf(request, 'format', ['json', 'csv']),
        contributions: oneOf(request, 'contributions', ['true', 'false']) === 'true',
        estimateError: oneOf(request, 'estimateError', ['true', 'false']) === 'true',
        spectrum: oneOf(request, 'spectrum', ['false', 'true']) === 'true',
        design: checkDesign(request.body),
      });
    })
    .all(refuseMethod('POST'));
  return router;
}
