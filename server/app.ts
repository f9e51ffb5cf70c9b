import compression from 'compression';
import express from 'express';
import type { Express, RequestHandler } from 'express';
import { VERSION } from '../engine/base/version.ts';
import type { Context } from './context.ts';
import { answerErrors, refuseMethod, refuseUnknown } from './error-handler.ts';
import { limitUploads } from './limit-uploads.ts';
import { logRequests } from './logger.ts';
import { openApiDocument } from './openapi/document.ts';
import { inPackage } from './package-root.ts';
import { noParameters } from './query.ts';
import { advices } from './routes/advices.ts';
import { channels } from './routes/channels.ts';
import { cores } from './routes/cores.ts';
import { demoDesigns } from './routes/demo-designs.ts';
import { diagnoses } from './routes/diagnoses.ts';
import { docs, page } from './routes/docs.ts';
import { reports } from './routes/reports.ts';
import { packs } from './routes/packs.ts';
import { fits } from './routes/fits.ts';
import { nextCaptures } from './routes/next-captures.ts';
import { predictions } from './routes/predictions.ts';
import { savedCaptures, savedDesigns } from './routes/saved.ts';
import { schema } from './routes/schema.ts';
import { simulations } from './routes/simulations.ts';
import { proposals } from './routes/proposals.ts';
import { studies } from './routes/studies.ts';
import { windows } from './routes/windows.ts';
import { limitRate, refuseCrossSite, refuseForeignHost, securityHeaders } from './security.ts';

export interface AppOptions extends Context {
  /** True: answer only to names of this machine (the server is bound to loopback). */
  readonly loopback: boolean;
  /** Folder of the built page; default dist/web. */
  readonly pageFolder?: string;
}

/** The server apart from listening: tests speak HTTP to it on a port of their own. */
export function createApp(options: AppOptions): Express {
  const app = express();
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  app.set('etag', false);
  app.use(logRequests(options.logger), securityHeaders());
  if (options.loopback) app.use(refuseForeignHost);
  app
    .route('/healthz')
    .get(
      (_request, response) =>
        void response.set('Cache-Control', 'no-store').json({ status: 'ok', version: VERSION }),
    )
    .all(refuseMethod('GET'));
  app.use(limitRate(options.limits.requestsPerMinute, options.clientOf), compression({ level: 1 }));
  app.use('/api/docs', docs());
  app.use('/api', refuseCrossSite, limitUploads(options.limits, options.clientOf), api(options));
  app.use(page(options.pageFolder ?? inPackage('dist', 'web')));
  app.use(refuseUnknown, answerErrors(options.logger));
  return app;
}

const noStore: RequestHandler = (_request, response, next) => {
  response.set('Cache-Control', 'no-store');
  next();
};

function api(context: Context): express.Router {
  const router = express.Router();
  const document = openApiDocument(context.limits);
  router.use(noStore);
  router.use('/v1/simulations', simulations(context));
  router.use('/v1/windows', windows(context));
  router.use('/v1/advices', advices(context));
  router.use('/v1/channels', channels(context));
  router.use('/v1/reports', reports(context));
  router.use('/v1/packs', packs(context));
  router.use('/v1/studies', noParameters, studies(context));
  router.use('/v1/proposals', noParameters, proposals(context));
  router.use('/v1/fits', noParameters, fits(context));
  router.use('/v1/next-captures', noParameters, nextCaptures(context));
  router.use('/v1/predictions', noParameters, predictions(context));
  router.use('/v1/diagnoses', noParameters, diagnoses(context));
  router.use('/v1/cores', cores(context));
  router.use('/v1/designs/demo', noParameters, demoDesigns());
  router.use('/v1/designs/saved', noParameters, savedDesigns(context));
  router.use('/v1/captures', noParameters, savedCaptures(context));
  router.use('/v1/schema', noParameters, schema());
  router
    .route('/v1/openapi.json')
    .all(noParameters)
    .get((_request, response) => void response.json(document))
    .all(refuseMethod('GET'));
  return router;
}
