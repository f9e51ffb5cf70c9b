import type { RequestListener, Server } from 'node:http';
import { createServer, STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import type { ErrorBody } from './request-error.ts';

/** The listening side: short patience with slow senders, and every request, even an odd one, answered by the app. */
export function createHttpServer(app: RequestListener): Server {
  const patience = { requestTimeout: 30_000, headersTimeout: 10_000, maxHeaderSize: 16_384 };
  // Node would answer a missing Host or an unknown Expect header by itself, without our headers.
  const server = createServer({ ...patience, requireHostHeader: false }, app);
  return server.on('checkExpectation', app).on('clientError', answerNoRequest);
}

/** What never became a request that the app could answer. */
function answerNoRequest(error: Error & { readonly code?: string }, socket: Duplex): void {
  // After the first bytes of an answer, another would only garble it.
  const begun = (socket as Duplex & { readonly bytesWritten?: number }).bytesWritten !== 0;
  if (!socket.writable || begun || error.code === 'ECONNRESET') return void socket.destroy();
  const [status, message] = NO_REQUEST[error.code ?? ''] ?? [
    400,
    'What was sent must be an HTTP request and is not: mend its first line, headers or chunks.',
  ];
  const body = JSON.stringify({ code: 'bad-request', field: null, message, limit: null } satisfies ErrorBody);
  const head = [
    `HTTP/1.1 ${status} ${STATUS_CODES[status]}`,
    'Content-Type: application/json; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(body)}`,
    "Content-Security-Policy: default-src 'self'",
    'X-Content-Type-Options: nosniff',
    'Cache-Control: no-store',
    'Connection: close',
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
}

const NO_REQUEST: Readonly<Record<string, readonly [number, string]>> = {
  HPE_HEADER_OVERFLOW: [
    431,
    'The address and headers may have at most 16384 bytes and have more: send less.',
  ],
  HPE_CHUNK_EXTENSIONS_OVERFLOW: [413, 'The extensions of the chunks are too long: send none.'],
  ERR_HTTP_REQUEST_TIMEOUT: [408, 'The request must be sent within 30 s and was not: send it again.'],
};
