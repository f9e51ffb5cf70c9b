import type { RequestHandler } from 'express';
import express from 'express';
import { parseJson } from './parse-json.ts';
import { RequestError } from './request-error.ts';

/** A body as bytes: `request.body` is then a Buffer. Refuses another content type and more bytes than `limit`. */
export const readBytes = (type: string, limit: number): RequestHandler[] => [
  requireType(type),
  refuseAnnounced(limit),
  express.raw({ type, limit, inflate: false }),
];

/** A JSON body: `request.body` is then the value. */
export const readJson = (limit: number): RequestHandler[] => [
  requireUtf8,
  ...readBytes('application/json', limit),
  parseBody,
];

export const tooLarge = (limit: number | null, headers?: Readonly<Record<string, string>>): RequestError =>
  new RequestError(
    413,
    {
      code: 'too-large',
      message: `The body may have at most ${limit} bytes and has more: send less.`,
      limit,
    },
    headers,
  );

/** Refuses any content type but the one given. */
function requireType(type: string): RequestHandler {
  return (request, _response, next) => {
    if (request.is(type) === type) return next();
    throw new RequestError(415, {
      code: 'unsupported-media-type',
      message: `Content-Type must be ${type}: set it and send the body in that form.`,
      limit: type,
    });
  };
}

/** A body that says itself that it is too long is not waited for. */
function refuseAnnounced(limit: number): RequestHandler {
  return (request, _response, next) => {
    if (Number(request.headers['content-length'] ?? 0) <= limit) return next();
    throw tooLarge(limit, { Connection: 'close' });
  };
}

const requireUtf8: RequestHandler = (request, _response, next) => {
  const charset = /;\s*charset\s*=\s*"?([^";\s]*)/i.exec(request.headers['content-type'] ?? '')?.[1];
  if (charset === undefined || /^utf-?8$/i.test(charset)) return next();
  throw notUtf8(415, 'unsupported-media-type');
};

const parseBody: RequestHandler = (request, _response, next) => {
  request.body = parseJson(bodyText(request.body), 'The body');
  next();
};

function bodyText(body: unknown): string {
  try {
    return Buffer.isBuffer(body) ? new TextDecoder('utf-8', { fatal: true }).decode(body) : '';
  } catch {
    throw notUtf8(400, 'encoding');
  }
}

export const notUtf8 = (status: number, code: string): RequestError =>
  new RequestError(status, {
    code,
    message: 'The body must be UTF-8 without compression: send it plain.',
  });
