import type { Request, Response } from 'express';

/** What is read and thrown away of a body that is refused: as much as the longest body that is taken, and so many ms. */
const REST_BYTES = 67_108_864;
const REST_TIME = 10_000;

/** Is there a body of which something may still be on its way? */
export const bodyIsComing = ({ headers, complete }: Request): boolean =>
  !complete && (headers['transfer-encoding'] !== undefined || Number(headers['content-length'] ?? 0) !== 0);

/**
 * Answers a request whose body is still coming, in JSON. The answer goes out whole and at once, but is ended only when
 * the rest of the body has been read: a connection that is closed while bytes come in is reset, and a client that is
 * still sending loses the answer with it.
 */
export function answerEarly(request: Request, response: Response, value: unknown): void {
  const text = JSON.stringify(value);
  response.type('json').set('Content-Length', String(Buffer.byteLength(text)));
  response.write(text);
  let left = REST_BYTES;
  const end = (): void => {
    clearTimeout(timer);
    request.off('data', count);
    if (!response.writableEnded) response.end();
    if (!request.complete) request.socket.destroySoon();
  };
  const count = (chunk: Buffer): void => {
    left -= chunk.length;
    if (left < 0) end();
  };
  const timer = setTimeout(end, REST_TIME);
  request.on('data', count).once('end', end).once('close', end);
}
