import type { ErrorRequestHandler, Request, RequestHandler, Response } from 'express';
import { answerEarly, bodyIsComing } from './answer-early.ts';
import type { Logger } from './logger.ts';
import { INTERNAL } from './task-failures.ts';
import { notUtf8, tooLarge } from './read-body.ts';
import { RequestError, toRequestError } from './request-error.ts';

/** No route took the request. */
export const refuseUnknown: RequestHandler = (request) => {
  throw new RequestError(404, {
    code: 'not-found',
    message: `Nothing is kept at this address for ${request.method}: /api/docs lists what is.`,
  });
};

/** Answers a method that a known address does not take. */
export function refuseMethod(...allowed: readonly string[]): RequestHandler {
  return (request) => {
    throw new RequestError(
      405,
      {
        code: 'method-not-allowed',
        message: `This address takes ${allowed.join(', ')}; received ${request.method}: use one of them.`,
      },
      { Allow: allowed.join(', ') },
    );
  };
}

/** The one place where an error becomes an answer. A fault of our own is logged and told without its inside. */
export function answerErrors(logger: Logger): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    const refusal = toRequestError(error) ?? toHttpRefusal(error);
    if (refusal === undefined || refusal.status === 500) logger.error({ err: error }, 'fault');
    if (response.headersSent) return next(error);
    sendRefusal(request, response, refusal ?? new RequestError(500, INTERNAL));
  };
}

function sendRefusal(request: Request, response: Response, { status, headers, body }: RequestError): void {
  response.status(status).set({ ...headers, 'Cache-Control': 'no-store' });
  if (bodyIsComing(request)) answerEarly(request, response, body);
  else response.json(body);
}

/** What express and its body parser refuse by themselves, in our words. */
function toHttpRefusal(error: unknown): RequestError | undefined {
  const { type, status, limit } = error as { type?: unknown; status?: unknown; limit?: unknown };
  if (type === 'entity.too.large') return tooLarge(typeof limit === 'number' ? limit : null);
  if (type === 'encoding.unsupported') return notUtf8(415, 'unsupported-media-type');
  if (type === 'request.aborted' || type === 'request.size.invalid') {
    return new RequestError(400, {
      code: 'incomplete-body',
      message: 'The body must have as many bytes as Content-Length says and did not: send it again.',
    });
  }
  if (typeof status === 'number' && status >= 400 && status < 500) {
    return new RequestError(status, {
      code: 'bad-request',
      message: 'The address or a header of the request cannot be read: mend it.',
    });
  }
  return undefined;
}
