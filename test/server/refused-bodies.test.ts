import { once } from 'node:events';
import { Socket } from 'node:net';
import { setTimeout } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import type { Limits } from '../../server/limits.ts';
import type { TestServer } from './http-client.ts';
import { constantRunner, startTestServer } from './http-client.ts';

let server: TestServer;
afterEach(() => server?.close());
const start = async (limits: Partial<Limits> = {}): Promise<void> => {
  server = await startTestServer({ runner: constantRunner('{}'), limits: { connections: 1e6, ...limits } });
};

interface Sending {
  readonly method?: string;
  readonly path?: string;
  readonly type?: string;
  readonly connection?: string;
  /** Bytes, which are sent whatever is answered meanwhile. */
  readonly length: number;
}

/** Sends all of it in pieces and only then reads, as many clients do; what it could read. */
async function send({ length, ...request }: Sending): Promise<string> {
  const { method = 'PUT', path = '/api/v1/captures/a', type = 'text/csv', connection = 'close' } = request;
  const socket = new Socket().pause().connect(server.port, '127.0.0.1').setEncoding('utf8');
  const ended = once(
    socket.on('error', () => {}),
    'close',
  );
  const write = (bytes: string | Buffer) => new Promise((resolve) => socket.write(bytes, resolve));
  const head = [
    `${method} ${path} HTTP/1.1`,
    'Host: localhost',
    `Content-Type: ${type}`,
    `Content-Length: ${length}`,
    `Connection: ${connection}`,
  ];
  await write(`${head.join('\r\n')}\r\n\r\n`);
  for (let left = length; left > 0 && !socket.destroyed; left -= PIECE) {
    await write(Buffer.alloc(Math.min(left, PIECE), 'x'));
    await setTimeout(1);
  }
  let heard = '';
  socket.on('data', (text: string) => {
    heard += text;
    if (heard.endsWith('}')) socket.end();
  });
  socket.resume();
  await ended;
  return heard;
}
const PIECE = 50_000;

const tally = (answers: readonly string[]): Record<string, number> => {
  const counts: Record<string, number> = {};
  for (const answer of answers) {
    const status = /^HTTP\/1\.1 (\d{3}) [\s\S]*\r\n\r\n\{.*\}$/u.exec(answer)?.[1] ?? 'lost';
    counts[status] = (counts[status] ?? 0) + 1;
  }
  return counts;
};

describe('a body that is refused while it is being sent', () => {
  it.each([
    [
      'no place to wait',
      { jobQueue: 0 },
      { method: 'POST', path: '/api/v1/studies', type: 'application/json' },
      '503',
    ],
    ['longer than may be', { captureBytes: 1000 }, {}, '413'],
    ['of another type', {}, { type: 'text/plain' }, '415'],
    ['to an address that is not there', {}, { path: '/api/v1/none' }, '404'],
    ['by a method that is not taken', {}, { method: 'POST' }, '405'],
  ] as const)('%s: the answer is read each time, of 150 at once', async (_why, limits, request, status) => {
    await start(limits);
    const tries = Array.from({ length: 150 }, (_, i) =>
      send({ ...request, length: 300_000 + 4000 * i, connection: i % 2 === 0 ? 'close' : 'keep-alive' }),
    );
    expect(tally(await Promise.all(tries))).toEqual({ [status]: 150 });
  });

  it('is read so far and no further: a connection on which it does not end is closed', async () => {
    await start({ captureBytes: 1000 });
    const socket = new Socket()
      .connect(server.port, '127.0.0.1')
      .on('error', () => {})
      .resume();
    socket.write(
      'PUT /api/v1/captures/a HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/csv\r\nContent-Length: 1000000000000\r\n\r\n',
    );
    let sent = 0;
    for (; !socket.destroyed; sent += 1e6) await new Promise((resolve) => socket.write(MEGABYTE, resolve));
    expect(sent).toBeGreaterThan(60e6);
    expect(sent).toBeLessThan(120e6);
  });
});
const MEGABYTE = Buffer.alloc(1e6, 'x');
