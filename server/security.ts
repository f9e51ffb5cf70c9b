import type { Request, RequestHandler, Response } from 'express';
import { rateLimit } from 'express-rate-limit';
import helmet from 'helmet';
import type { ClientOf } from './client-of.ts';
import { RequestError } from './request-error.ts';

/** Headers of every answer. The page loads nothing from elsewhere, so the policy allows only its own origin. */
export function securityHeaders(): RequestHandler {
  return helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        'default-src': ["'self'"],
        'base-uri': ["'none'"],
        'connect-src': ["'self'"],
        'font-src': ["'self'", 'data:'],
        'form-action': ["'self'"],
        'frame-ancestors': ["'none'"],
        'img-src': ["'self'", 'data:', 'blob:'],
        'object-src': ["'none'"],
        'script-src': ["'self'"],
        'script-src-attr': ["'none'"],
        'style-src': ["'self'"],
        'worker-src': ["'self'"],
        // On plain http this would send the page's own requests to https, where nobody listens.
        'upgrade-insecure-requests': null,
      },
    },
    // The server speaks plain http; a promise of https would be false.
    strictTransportSecurity: false,
    xFrameOptions: { action: 'deny' },
    referrerPolicy: { policy: 'no-referrer' },
  });
}

/** The same headers as they are, for an answer that no request led to. */
export function headersOfEveryAnswer(): readonly (readonly [name: string, value: string])[] {
  const headers: [string, string][] = [];
  const response = {
    setHeader: (name: string, value: unknown) => headers.push([name, String(value)]),
    removeHeader: () => {},
  };
  securityHeaders()({} as Request, response as unknown as Response, () => {});
  return headers;
}

const LOOPBACK_NAMES = /^(localhost|127\.0\.0\.1|\[::1\])(:\d{1,5})?$/i;

/** While bound to loopback, answer only to its names: a foreign name that resolves here is another site's page. */
export const refuseForeignHost: RequestHandler = (request, _response, next) => {
  const host = request.headers.host;
  const { length } = request.rawHeaders.filter((name, i) => i % 2 === 0 && name.toLowerCase() === 'host');
  if (host !== undefined && length === 1 && LOOPBACK_NAMES.test(host)) return next();
  throw new RequestError(403, {
    code: 'foreign-host',
    message:
      'The one Host header must name this machine (localhost, 127.0.0.1 or [::1]): open the page by that name.',
  });
};

const READING = new Set(['GET', 'HEAD', 'OPTIONS']);

/** A page of another site must not start work or change what is saved. */
export const refuseCrossSite: RequestHandler = (request, _response, next) => {
  if (READING.has(request.method)) return next();
  const site = request.headers['sec-fetch-site'];
  const origin = request.headers.origin;
  const sameSite = site === undefined || site === 'same-origin' || site === 'none';
  if (sameSite && (origin === undefined || originHost(origin) === request.headers.host)) return next();
  throw new RequestError(403, {
    code: 'cross-site',
    message: 'A page of another site may not start work here: use the page that this server serves.',
  });
};

function originHost(origin: string): string | undefined {
  return URL.canParse(origin) ? new URL(origin).host : undefined;
}

/** So many requests a minute from one client; one more is refused with 429. */
export function limitRate(perMinute: number, clientOf: ClientOf): RequestHandler {
  return rateLimit({
    windowMs: 60_000,
    limit: perMinute,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    validate: false,
    keyGenerator: clientOf,
    handler: (_request, response) => {
      throw new RequestError(
        429,
        {
          code: 'too-many-requests',
          message: `At most ${perMinute} requests a minute are answered to one client: wait a minute.`,
          limit: perMinute,
        },
        { 'Retry-After': String(response.getHeader('Retry-After') ?? 60) },
      );
    },
  });
}
