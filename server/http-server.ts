import type { IncomingMessage, RequestListener, Server } from 'node:http';
import { createServer, ServerResponse, STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import type { ErrorBody } from './request-error.ts';
import { headersOfEveryAnswer } from './security.ts';

/**
 * The listening side: short patience with slow senders, so many connections of one address, and every request, even an
 * odd one, answered by the app or in its words.
 */
export function createHttpServer(app: RequestListener, connections: number): Server {
  const patience = { requestTimeout: 30_000, headersTimeout: 10_000, maxHeaderSize: 16_384 };
  // Node would answer a missing Host or an unknown Expect header by itself, without our headers.
  const server = createServer({ ...patience, requireHostHeader: false }, app);
  return server
    .on('checkExpectation', app)
    .on('clientError', answerNoRequest)
    .on('connect', (_request, socket) => refuseSocket(socket, CONNECT))
    .on('upgrade', (request: IncomingMessage, socket: Duplex) => answerUpgrade(app, request, socket))
    .on('connection', limitConnections(connections));
}

/** An offer to speak another protocol need not be taken; only what comes with a body could be misread then. */
function answerUpgrade(app: RequestListener, request: IncomingMessage, socket: Duplex): void {
  const { headers } = request;
  if (headers['content-length'] !== undefined || headers['transfer-encoding'] !== undefined)
    return refuseSocket(socket, UPGRADE);
  socket.on('error', () => {});
  const response = new ServerResponse(request);
  response.shouldKeepAlive = false;
  response.assignSocket(socket as Socket);
  response.on('finish', () => socket.end());
  app(request, response);
}

type Refusal = readonly [status: number, message: string];

/** A connection more than an address may have is closed: an answer would cost what is to be saved. */
function limitConnections(most: number): (socket: Socket) => void {
  const open = new Map<string, number>();
  return (socket) => {
    const address = socket.remoteAddress ?? '';
    const now = (open.get(address) ?? 0) + 1;
    if (now > most) return void socket.destroy();
    open.set(address, now);
    socket.once('close', () => {
      const left = (open.get(address) ?? 1) - 1;
      if (left === 0) open.delete(address);
      else open.set(address, left);
    });
  };
}

/** What never became a request that the app could answer. */
function answerNoRequest(error: Error & { readonly code?: string }, socket: Duplex): void {
  // After the first bytes of an answer, another would only garble it.
  const begun = (socket as Duplex & { readonly bytesWritten?: number }).bytesWritten !== 0;
  if (!socket.writable || begun || error.code === 'ECONNRESET') return void socket.destroy();
  refuseSocket(socket, NO_REQUEST[error.code ?? ''] ?? UNREADABLE);
}

/** An answer straight to the connection, which is closed then, whatever else is sent on it. */
function refuseSocket(socket: Duplex, [status, message]: Refusal): void {
  const body = JSON.stringify({ code: 'bad-request', field: null, message, limit: null } satisfies ErrorBody);
  const head = [
    `HTTP/1.1 ${status} ${STATUS_CODES[status]}`,
    ...headersOfEveryAnswer().map(([name, value]) => `${name}: ${value}`),
    'Content-Type: application/json; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(body)}`,
    'Cache-Control: no-store',
    'Connection: close',
  ];
  socket.on('error', () => {});
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
  setTimeout(() => socket.destroy(), 1000).unref();
}

const UNREADABLE: Refusal = [
  400,
  'What was sent must be an HTTP request and is not: mend its first line, headers or chunks.',
];
const CONNECT: Refusal = [
  405,
  'This server is no proxy and takes no CONNECT: ask it for an address of its own.',
];
const UPGRADE: Refusal = [
  400,
  'A request with a body may not ask for another protocol: leave the Upgrade header out.',
];

const NO_REQUEST: Readonly<Record<string, Refusal>> = {
  HPE_HEADER_OVERFLOW: [
    431,
    'The address and headers may have at most 16384 bytes and have more: send less.',
  ],
  HPE_CHUNK_EXTENSIONS_OVERFLOW: [413, 'The extensions of the chunks are too long: send none.'],
  ERR_HTTP_REQUEST_TIMEOUT: [408, 'The request must be sent within 30 s and was not: send it again.'],
};
