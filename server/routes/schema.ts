import { Router } from 'express';
import { designJsonSchema } from '../../engine/design/schema/design-schema.ts';
import { refuseMethod } from '../error-handler.ts';

/** The JSON Schema of a design. */
export function schema(): Router {
  const router = Router();
  router
    .route('/')
    .get((_request, response) => {
      response.type('application/schema+json').send(`${JSON.stringify(designJsonSchema(), null, 2)}\n`);
    })
    .all(refuseMethod('GET'));
  return router;
}
