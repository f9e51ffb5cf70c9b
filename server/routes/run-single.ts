import type { Request, RequestHandler, Response } from 'express';
import { priceDesign } from '../price.ts';
import type { Context } from '../context.ts';
import { readJson } from '../read-body.ts';
import type { Task } from '../task.ts';

/** A JSON body of what is answered at once; refused before it is read where there is no place for it. */
export const readSingle = (context: Context): RequestHandler[] => [
  (request, _response, next) => {
    context.singles.refuseWhenFull?.(context.clientOf(request));
    next();
  },
  ...readJson(context.limits.jsonBytes),
];

type SingleKind = 'simulate' | 'window' | 'report' | 'pack' | 'channel' | 'core' | 'core-captures';

/** Price a task, do it on the reserved worker, send its text; the work ends when the client goes away. */
export async function answerTask(
  context: Context,
  request: Request,
  response: Response,
  task: Task & { kind: SingleKind },
): Promise<void> {
  if (task.kind !== 'core' && task.kind !== 'core-captures')
    priceDesign(task.design, priceKind(task), context.limits);
  const gone = new AbortController();
  response.on('close', () => gone.abort());
  const answer = await context.singles.run(task, {
    signal: gone.signal,
    timeLimit: context.limits.singleTime,
    client: context.clientOf(request),
  });
  if (response.destroyed) return;
  response.set('Cache-Control', 'no-store').type(typeOf(task));
  response.send(Buffer.from(answer.body.buffer, answer.body.byteOffset, answer.body.byteLength));
}

function priceKind(task: Task): 'simulate' | 'window' | 'advice' | 'channel' {
  if (task.kind === 'simulate' || task.kind === 'channel') return task.kind;
  return task.kind === 'window' && task.advice ? 'advice' : 'window';
}

function typeOf(task: Task & { kind: SingleKind }): string {
  if (task.kind === 'channel' || task.kind === 'core' || task.kind === 'core-captures')
    return 'application/json';
  if (task.kind === 'report') return 'text/html';
  if (task.kind === 'pack') return task.format === 'html' ? 'text/html' : 'application/json';
  return task.format === 'csv' ? 'text/csv' : 'application/json';
}
