import { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { oneOf, refuseOtherParameters } from '../query.ts';
import { answerTask, readSingle } from './run-single.ts';

/** POST a design, get its traces. */
export function simulations(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readSingle(context), async (request, response) => {
      refuseOtherParameters(request, ['format', 'contributions', 'estimateError', 'spectrum']);
      await answerTask(context, request, response, {
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
