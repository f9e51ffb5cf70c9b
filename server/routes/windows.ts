import { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { oneOf, refuseOtherParameters } from '../query.ts';
import { answerTask, readSingle } from './run-single.ts';

/** POST a design, get its strobe window. */
export function windows(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readSingle(context), async (request, response) => {
      refuseOtherParameters(request, ['format', 'advice']);
      await answerTask(context, request, response, {
        kind: 'window',
        advice: oneOf(request, 'advice', ['false', 'true']) === 'true',
        format: oneOf(request, 'format', ['json', 'csv']),
        design: checkDesign(request.body),
      });
    })
    .all(refuseMethod('POST'));
  return router;
}
