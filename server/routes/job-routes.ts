import type { Request, RequestHandler, Response } from 'express';
import { Router } from 'express';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import type { JobView } from '../job.ts';
import { isEnded } from '../job.ts';
import type { JobBody } from '../job.ts';
import { readJson } from '../read-body.ts';
import type { Task } from '../task.ts';

/** What a kind of job makes of a request's body; throws RequestError for one that is refused. */
export type ReadJob = (
  body: unknown,
) => { kind: string; body: JobBody } | Promise<{ kind: string; body: JobBody }>;

/** Jobs: accepted with 202, followed by events, read when done, cancelled by DELETE. */
export function jobRoutes(context: Context, path: string, read: ReadJob): Router {
  const router = Router();
  const start: RequestHandler = async (request, response) => {
    const { kind, body } = await read(request.body);
    const view = context.jobs.start(kind, body, context.clientOf(request));
    response.status(202).location(`${path}/${view.id}`).json(view);
  };
  const refuseWhenFull: RequestHandler = (request, _response, next) => {
    context.jobs.refuseWhenFull(context.clientOf(request));
    next();
  };
  router
    .route('/')
    .post(refuseWhenFull, ...readJson(context.limits.jsonBytes), start)
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

/** A job of one task, whose answer is its result. It tells of how many parts it consists and which are done. */
export function oneTask(task: Task): JobBody {
  return async (control) => {
    let ended = 1;
    control.report(0, 0);
    const answer = await control.run(task, (share, parts = 0) => {
      ended = Math.max(1, Math.round(share * parts));
      control.report(Math.round(share * parts), parts);
    });
    control.keep(answer.body);
    // A fit that converges needs fewer iterations than it may have.
    control.report(ended, ended);
  };
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
