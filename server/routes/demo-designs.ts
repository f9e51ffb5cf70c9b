import { Router } from 'express';
import { readDemoDesigns } from '../demo-designs.ts';
import { refuseMethod } from '../error-handler.ts';
import { shorten } from '../query.ts';
import { RequestError } from '../request-error.ts';

/** The demo designs: the list, and each as the design file that it is. */
export function demoDesigns(): Router {
  const designs = readDemoDesigns();
  const router = Router();
  router
    .route('/')
    .get((_request, response) => {
      response.json([...designs.values()].map(({ id, name, note }) => ({ id, name, note })));
    })
    .all(refuseMethod('GET'));
  router
    .route('/:id')
    .get((request, response) => {
      const demo = designs.get(request.params.id);
      if (demo === undefined) {
        throw new RequestError(404, {
          code: 'not-found',
          message: `There is no demo design ${shorten(request.params.id)}; there are ${[...designs.keys()].join(', ')}: ask for one of these.`,
        });
      }
      response.json(demo.design);
    })
    .all(refuseMethod('GET'));
  return router;
}
