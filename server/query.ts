import type { Request, RequestHandler } from 'express';
import { RequestError } from './request-error.ts';

/** A query parameter that must be one of the words given; the first is the default. */
export function oneOf<Word extends string>(
  request: Request,
  name: string,
  words: readonly [Word, ...Word[]],
): Word {
  const value = request.query[name];
  if (value === undefined) return words[0];
  const found = words.find((word) => word === value);
  if (found !== undefined) return found;
  throw new RequestError(400, {
    code: 'bad-parameter',
    field: `?${name}`,
    message: `Parameter ${name} must be ${words.join(' or ')}; received ${shorten(value)}: give one of these.`,
    limit: words.join('|'),
  });
}

/** Refuses parameters that the address does not know, so that a misspelt one is not silently without effect. */
export function refuseOtherParameters(request: Request, known: readonly string[]): void {
  const stranger = Object.keys(request.query).find((name) => !known.includes(name));
  if (stranger === undefined) return;
  const allowed = known.length === 0 ? 'none is known here' : `known here: ${known.join(', ')}`;
  throw new RequestError(400, {
    code: 'unknown-parameter',
    field: `?${stranger.slice(0, 40)}`,
    message: `Parameter ${shorten(stranger)} is unknown; ${allowed}: leave it out.`,
  });
}

/** For addresses that know no parameter at all. */
export const noParameters: RequestHandler = (request, _response, next) => {
  refuseOtherParameters(request, []);
  next();
};

/** A received value, quoted and short. */
export function shorten(value: unknown): string {
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 40 ? `${text.slice(0, 37)}…` : text;
}
