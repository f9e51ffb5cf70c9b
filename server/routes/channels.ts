import { Router } from 'express';
import { checkDesign } from '../../engine/index.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { refuseOtherParameters } from '../query.ts';
import { readJson } from '../read-body.ts';
import { answerTask } from './run-single.ts';

/** POST a design, get what its channel does beside one read: history, recovery, words, drivers, supply. */
export function channels(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readJson(context.limits.jsonBytes), async (request, response) => {
      refuseOtherParameters(request, []);
      await answerTask(context, response, { kind: 'channel', design: checkDesign(request.body) });
    })
    .all(refuseMethod('POST'));
  return router;
}
