import { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { refuseOtherParameters } from '../query.ts';
import { answerTask, readSingle } from './run-single.ts';

/** POST a design, get what its channel does beside one read: history, recovery, words, drivers, supply. */
export function channels(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readSingle(context), async (request, response) => {
      refuseOtherParameters(request, []);
      await answerTask(context, request, response, { kind: 'channel', design: checkDesign(request.body) });
    })
    .all(refuseMethod('POST'));
  return router;
}
