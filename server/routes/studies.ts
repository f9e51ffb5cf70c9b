import type { Request, Response } from 'express';
import { Router } from 'express';
import type { StudyRequest } from '../../engine/index.ts';
import { checkDesign } from '../../engine/index.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import type { JobView } from '../jobs.ts';
import { isEnded } from '../jobs.ts';
import { priceDesign } from '../price.ts';
import { readJson } from '../read-body.ts';
import { studyJob } from '../study-job.ts';
import { readStudyRequest } from '../study-request.ts';

/** Studies: accepted as jobs, followed by events, cancelled by DELETE. */
export function studies(context: Context): Router {
  const router = Router();
  router
    .route('/')
    .post(...readJson(context.limits.jsonBytes), (request, response) => {
      const study: StudyRequest = readStudyRequest(request.body);
      priceDesign(checkDesign(study.design), 'simulate', context.limits);
      const view = context.jobs.start(study.kind, studyJob(study, context.limits.jobWork));
      response.status(202).location(`/api/v1/studies/${view.id}`).json(view);
    })
    .all(refuseMethod('POST'));
  router
    .route('/:id')
    .get((request, response) => void response.json(context.jobs.view(request.params.id)))
    .delete((request, response) => void response.json(context.jobs.remove(request.params.id)))
    .all(refuseMethod('GET', 'DELETE'));
  router
    .route('/:id/result')
    .get((request, response) => {
      const bytes = context.jobs.result(request.params.id);
      response.type('application/json').send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
    })
    .all(refuseMethod('GET'));
  router
    .route('/:id/events')
    .get((request, response) => sendEvents(context, request, response))
    .all(refuseMethod('GET'));
  return router;
}

/** Progress as server-sent events: `progress` at most ten times a second, and one last `end`. */
function sendEvents(context: Context, request: Request<{ id: string }>, response: Response): void {
  const send = (view: JobView): void => {
    response.write(`event: ${isEnded(view) ? 'end' : 'progress'}\ndata: ${JSON.stringify(view)}\n\n`);
  };
  let pending: NodeJS.Timeout | undefined;
  let latest = context.jobs.view(request.params.id);
  response.writeHead(200, {
    'Content-Type': 'text/event-stream',
    'Cache-Control': 'no-store, no-transform',
    Connection: 'keep-alive',
  });
  const alive = setInterval(() => response.write(': still here\n\n'), 15_000);
  const leave = context.jobs.watch(request.params.id, (view) => {
    latest = view;
    if (isEnded(view)) {
      clearTimeout(pending);
      send(view);
      response.end();
      return;
    }
    pending ??= setTimeout(() => {
      pending = undefined;
      send(latest);
    }, 100);
  });
  response.on('close', () => {
    clearInterval(alive);
    clearTimeout(pending);
    leave();
  });
}
