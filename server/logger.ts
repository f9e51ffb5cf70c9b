import { pino } from 'pino';
import type { Logger } from 'pino';
import { pinoHttp } from 'pino-http';
import type { RequestHandler } from 'express';

export type { Logger };

/** A log on standard error: one JSON object a line, so that nothing a client sends can begin a line of its own. */
export function createLogger(level: string, stream: NodeJS.WritableStream = process.stderr): Logger {
  return pino({ level, base: undefined, timestamp: pino.stdTimeFunctions.isoTime }, stream);
}

/** ms in which one refusal for want of a place is told as a warning: a full server must not spend itself on telling so. */
const BUSY = 10_000;

/** One line a request: method, path without its query, status, time. No headers, no bodies, no addresses. */
export function logRequests(logger: Logger): RequestHandler {
  let told = -BUSY;
  const levelOfBusy = (): 'warn' | 'info' => {
    if (performance.now() - told < BUSY) return 'info';
    told = performance.now();
    return 'warn';
  };
  return pinoHttp({
    logger,
    customLogLevel: (_request, response, error) => {
      if (response.statusCode === 503) return levelOfBusy();
      if (error !== undefined || response.statusCode >= 500) return 'error';
      return response.statusCode >= 400 ? 'info' : 'debug';
    },
    // The fault itself is logged where it is caught; here it would only be repeated.
    customErrorObject: (_request, _response, _error, line: object) => ({ ...line, err: undefined }),
    serializers: {
      req: (request: { method: string; url: string }) => ({
        method: request.method,
        path: request.url.split('?', 1)[0].slice(0, 200),
      }),
      res: (response: { statusCode: number }) => ({ status: response.statusCode }),
    },
  }) as unknown as RequestHandler;
}
