import { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { refuseOtherParameters } from '../query.ts';
import { answerTask, readSingle } from './run-single.ts';

/** POST a design, get one self-contained document to print. */
export function reports(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readSingle(context), async (request, response) => {
      refuseOtherParameters(request, []);
      // It is a file to keep, not a page of this server.
      response.set('Content-Disposition', 'attachment; filename="report.html"');
      await answerTask(context, request, response, { kind: 'report', design: checkDesign(request.body) });
    })
    .all(refuseMethod('POST'));
  return router;
}
