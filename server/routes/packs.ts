import { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { oneOf, refuseOtherParameters } from '../query.ts';
import { answerTask, readSingle } from './run-single.ts';

/** POST a design, get what it is built from: as JSON with every file in it, or the document to print. */
export function packs(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readSingle(context), async (request, response) => {
      refuseOtherParameters(request, ['format']);
      const format = oneOf(request, 'format', ['json', 'html']);
      const design = checkDesign(request.body);
      if (format === 'html') response.set('Content-Disposition', 'attachment; filename="pack.html"');
      await answerTask(context, request, response, { kind: 'pack', design, format });
    })
    .all(refuseMethod('POST'));
  return router;
}
