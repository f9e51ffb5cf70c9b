import type { RequestListener, Server } from 'node:http';
import { createServer } from 'node:http';

/** The listening side: short patience with slow senders, and every request, even an odd one, answered by the app. */
export function createHttpServer(app: RequestListener): Server {
  const server = createServer({ requestTimeout: 30_000, headersTimeout: 10_000, maxHeaderSize: 16_384 }, app);
  // Node would answer an unknown Expect header by itself, without our headers.
  return server.on('checkExpectation', app);
}
