import type { Request, RequestHandler } from 'express';
import express from 'express';
import { parseJson } from './parse-json.ts';
import { RequestError } from './request-error.ts';

/** Refuses any content type but the one given. */
export function requireType(type: string): RequestHandler {
  return (request, _response, next) => {
    if (request.is(type) === type) return next();
    throw new RequestError(415, {
      code: 'unsupported-media-type',
      message: `Content-Type must be ${type}: set it and send the body in that form.`,
      limit: type,
    });
  };
}

/** A JSON body: `request.body` is then the value. */
export function readJson(bytes: number): RequestHandler[] {
  const type = 'application/json';
  return [requireType(type), express.text({ type, limit: bytes, inflate: false }), parseBody];
}

const parseBody: RequestHandler = (request, _response, next) => {
  request.body = parseJson(bodyText(request), 'The body');
  next();
};

const bodyText = (request: Request): string => (typeof request.body === 'string' ? request.body : '');
