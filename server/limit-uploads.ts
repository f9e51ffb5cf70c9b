import type { IncomingMessage } from 'node:http';
import type { RequestHandler } from 'express';
import type { ClientOf } from './client-of.ts';
import type { Limits } from './limits.ts';
import { RequestError } from './request-error.ts';

/**
 * Bodies are held in memory until they are answered: so many bytes of them at the same time, and a share of that for
 * one client. One body always finds room where no other is.
 */
export function limitUploads(limits: Limits, clientOf: ClientOf): RequestHandler {
  const held = new Map<string, number>();
  let all = 0;
  const hold = (client: string, bytes: number): void => {
    all += bytes;
    const own = (held.get(client) ?? 0) + bytes;
    if (own === 0) held.delete(client);
    else held.set(client, own);
  };
  return (request, response, next) => {
    const bytes = Math.min(announced(request), limits.captureBytes);
    if (bytes === 0) return next();
    const client = clientOf(request);
    const own = held.get(client) ?? 0;
    if (all > 0 && all + bytes > limits.uploadBytes) throw full(limits.uploadBytes);
    if (own > 0 && own + bytes > limits.uploadShare) throw full(limits.uploadShare);
    hold(client, bytes);
    response.once('close', () => hold(client, -bytes));
    next();
  };
}

/** A body that does not say how long it is counts as the longest. */
function announced({ headers }: IncomingMessage): number {
  if (headers['transfer-encoding'] !== undefined) return Infinity;
  const length = Number(headers['content-length'] ?? 0);
  return Number.isNaN(length) ? 0 : length;
}

const full = (limit: number): RequestError =>
  new RequestError(
    503,
    {
      code: 'uploads-full',
      message: `Bodies on their way may have at most ${limit} bytes together and have as many: try again in 2 s.`,
      limit,
    },
    { 'Retry-After': '2', Connection: 'close' },
  );
