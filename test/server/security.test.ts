import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { queueFull } from '../../server/task-failures.ts';
import type { TestServer } from './http-client.ts';
import { constantRunner, startTestServer } from './http-client.ts';

const DESIGN = { mat: { rows: 4, columns: 4 } };

let server: TestServer;
beforeAll(async () => {
  server = await startTestServer({ runner: constantRunner('{"answer":1}\n') });
});
afterAll(() => server.close());

const failWith = (error: Error): never => {
  throw error;
};

const errorOf = (body: string): Record<string, unknown> => JSON.parse(body) as Record<string, unknown>;

describe('headers', () => {
  const routes = [
    '/healthz',
    '/api/v1/schema',
    '/api/v1/openapi.json',
    '/api/v1/cores',
    '/api/v1/designs/demo',
    '/api/docs/',
    '/nothing-here',
    '/api/v1/simulations',
  ];
  it.each(routes)('%s carries the security headers', async (route) => {
    const { headers } = await server.ask(route);
    expect(headers['content-security-policy']).toContain("default-src 'self'");
    expect(headers['content-security-policy']).toContain("script-src 'self'");
    expect(headers['content-security-policy']).not.toContain('unsafe');
    expect(headers['content-security-policy']).not.toContain('upgrade-insecure-requests');
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['x-frame-options']).toBe('DENY');
    expect(headers['referrer-policy']).toBe('no-referrer');
    expect(headers['cross-origin-resource-policy']).toBe('same-origin');
    expect(headers['x-powered-by']).toBeUndefined();
    expect(headers['access-control-allow-origin']).toBeUndefined();
  });

  it('keeps answers of the interface out of caches', async () => {
    const reply = await server.postJson('/api/v1/simulations', DESIGN);
    expect(reply.status).toBe(200);
    expect(reply.headers['cache-control']).toBe('no-store');
    expect((await server.ask('/nothing-here')).headers['cache-control']).toBe('no-store');
  });
});

describe('other sites', () => {
  it.each([
    ['a foreign Origin', { Origin: 'http://elsewhere.example' }],
    ['an Origin that is no address', { Origin: 'null' }],
    ['a foreign port of this machine', { Origin: 'http://127.0.0.1:1' }],
    ['Sec-Fetch-Site cross-site', { 'Sec-Fetch-Site': 'cross-site' }],
    ['Sec-Fetch-Site same-site', { 'Sec-Fetch-Site': 'same-site' }],
  ])('may not start work: %s', async (_name, headers: Record<string, string>) => {
    const reply = await server.postJson('/api/v1/simulations', DESIGN, headers);
    expect(reply.status).toBe(403);
    expect(errorOf(reply.body).code).toBe('cross-site');
  });

  it('may not cancel a job', async () => {
    const reply = await server.ask('/api/v1/studies/00000000-0000-4000-8000-000000000000', {
      method: 'DELETE',
      headers: { 'Sec-Fetch-Site': 'cross-site' },
    });
    expect(reply.status).toBe(403);
  });

  it('the page of this server may', async () => {
    const reply = await server.postJson('/api/v1/simulations', DESIGN, {
      Host: `localhost:${server.port}`,
      Origin: `http://localhost:${server.port}`,
      'Sec-Fetch-Site': 'same-origin',
    });
    expect(reply.status).toBe(200);
  });

  it('cannot reach a loopback server by a name of their own', async () => {
    const reply = await server.ask('/healthz', { headers: { Host: 'rebound.example' } });
    expect(reply.status).toBe(403);
    expect(errorOf(reply.body).code).toBe('foreign-host');
  });

  it('a server that is open to the network answers to any name', async () => {
    const open = await startTestServer({ runner: constantRunner('{}'), loopback: false });
    const reply = await open.ask('/healthz', { headers: { Host: 'bench.example' } });
    await open.close();
    expect(reply.status).toBe(200);
  });

  it.each([
    'text/plain',
    'application/x-www-form-urlencoded',
    'multipart/form-data; boundary=x',
    'text/json',
  ])('a form of type %s is refused with 415', async (type) => {
    const reply = await server.ask('/api/v1/simulations', {
      method: 'POST',
      headers: { 'Content-Type': type },
      body: JSON.stringify(DESIGN),
    });
    expect(reply.status).toBe(415);
    expect(errorOf(reply.body).code).toBe('unsupported-media-type');
  });
});

describe('limits', () => {
  it('a body of the limit is read, one byte more is refused with 413 and the limit', async () => {
    const small = await startTestServer({ runner: constantRunner('{}'), limits: { jsonBytes: 100 } });
    const sized = (bytes: number): string => JSON.stringify(DESIGN).padEnd(bytes, ' ');
    const headers = { 'Content-Type': 'application/json' };
    const post = (bytes: number) =>
      small.ask('/api/v1/simulations', { method: 'POST', headers, body: sized(bytes) });
    const replies = [await post(99), await post(100), await post(101)];
    await small.close();
    expect(replies.map(({ status }) => status)).toEqual([200, 200, 413]);
    expect(errorOf(replies[2].body)).toMatchObject({ code: 'too-large', limit: 100 });
  });

  it('a body that says itself that it is too long is refused before it is sent', async () => {
    const reply = await server.ask('/api/v1/simulations', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', 'Content-Length': '99999999999999' },
      body: '{',
    });
    expect(reply.status).toBe(413);
    expect(errorOf(reply.body)).toMatchObject({ code: 'too-large', limit: 1_048_576 });
    expect(reply.headers['connection']).toBe('close');
  });

  it.each([
    ['bytes that are no UTF-8', 'application/json', 400, 'encoding'],
    ['another charset', 'application/json; charset=utf-16', 415, 'unsupported-media-type'],
    ['another charset in quotes', 'application/json; charset="latin1"', 415, 'unsupported-media-type'],
  ])('%s: refused rather than misread', async (_name, type, status, code) => {
    const reply = await server.ask('/api/v1/simulations', {
      method: 'POST',
      headers: { 'Content-Type': type },
      body: Buffer.from('{"name":"\xff\xfe"}', 'latin1'),
    });
    expect([reply.status, errorOf(reply.body).code]).toEqual([status, code]);
  });

  it('a compressed body is refused, so that it cannot swell', async () => {
    const reply = await server.postJson('/api/v1/simulations', DESIGN, { 'Content-Encoding': 'gzip' });
    expect(reply.status).toBe(415);
  });

  it('the request after the last one of a minute is refused with 429 and Retry-After', async () => {
    const limited = await startTestServer({ runner: constantRunner('{}'), limits: { requestsPerMinute: 3 } });
    const replies = [];
    for (let i = 0; i < 4; i++) replies.push(await limited.ask('/api/v1/schema'));
    const health = await limited.ask('/healthz');
    await limited.close();
    expect(replies.map(({ status }) => status)).toEqual([200, 200, 200, 429]);
    expect(errorOf(replies[3].body)).toMatchObject({ code: 'too-many-requests', limit: 3 });
    expect(Number(replies[3].headers['retry-after'])).toBeGreaterThan(0);
    expect(health.status).toBe(200);
  });
});

/** Of every answer, whatever led to it. */
const SAME_HEADERS = ['referrer-policy', 'cross-origin-resource-policy', 'cross-origin-opener-policy'];

/** Bytes as they stand to a port; the answer until the other side closes or nothing more comes. */
function sendRaw(port: number, text: string): Promise<string> {
  return new Promise((resolve) => {
    let answer = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(Buffer.from(text, 'latin1')));
    socket.setTimeout(1000, () => socket.destroy());
    socket.on('data', (chunk: Buffer) => (answer += chunk.toString('latin1')));
    socket.on('error', () => {});
    socket.on('close', () => resolve(answer));
  });
}

describe('what is hardly HTTP', () => {
  const head = 'POST /api/v1/simulations HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n';
  it.each([
    ['no request line', '\x00\xff\r\n\r\n', 400],
    ['a version that is none', 'GET /healthz HTTP/3.0\r\nHost: localhost\r\n\r\n', 400],
    ['a method that is none', 'LOOK /healthz HTTP/1.1\r\nHost: localhost\r\n\r\n', 400],
    ['a header without a colon', 'GET /healthz HTTP/1.1\r\nHost: localhost\r\nodd\r\n\r\n', 400],
    ['two lengths', `${head}Content-Length: 5\r\nContent-Length: 6\r\n\r\nhello`, 400],
    [
      'a length and chunks, as for smuggling',
      `${head}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`,
      400,
    ],
    ['a length below nothing', `${head}Content-Length: -5\r\n\r\nhello`, 400],
    [
      'headers of 20,000 bytes',
      `GET /healthz HTTP/1.1\r\nHost: localhost\r\nX: ${'a'.repeat(20_000)}\r\n\r\n`,
      431,
    ],
    ['no host', 'GET /healthz HTTP/1.1\r\n\r\n', 403],
    ['CONNECT', 'CONNECT elsewhere.example:443 HTTP/1.1\r\nHost: localhost\r\n\r\n', 405],
    [
      'an upgrade with a broken chunk',
      `${head}Connection: Upgrade\r\nUpgrade: websocket\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n`,
      400,
    ],
    ['two hosts', 'GET /healthz HTTP/1.1\r\nHost: localhost\r\nHost: elsewhere.example\r\n\r\n', 403],
    [
      'a foreign host in the address',
      'GET http://x/healthz HTTP/1.1\r\nHost: elsewhere.example\r\n\r\n',
      403,
    ],
  ])('%s is refused in one sentence, with our headers', async (_name, text, status) => {
    const answer = await sendRaw(server.port, text);
    const [top, body] = answer.split('\r\n\r\n');
    expect(top).toMatch(new RegExp(`^HTTP/1\\.1 ${status} `));
    const usual = await server.ask('/nothing-here');
    for (const name of [
      'content-security-policy',
      'x-frame-options',
      'x-content-type-options',
      ...SAME_HEADERS,
    ])
      expect(top.toLowerCase()).toContain(`${name}: ${String(usual.headers[name])}`.toLowerCase());
    expect(errorOf(body)).toMatchObject({ field: null, message: expect.stringMatching(/\.$/) });
    expect((await server.ask('/healthz')).status).toBe(200);
  });
});

it('an offer to speak another protocol is not taken, and the request is answered', async () => {
  const offer = 'Connection: Upgrade, HTTP2-Settings\r\nUpgrade: h2c\r\nHTTP2-Settings: AAA\r\n';
  const answer = await sendRaw(server.port, `GET /healthz HTTP/1.1\r\nHost: localhost\r\n${offer}\r\n`);
  expect(answer).toMatch(/^HTTP\/1\.1 200 OK\r\n/);
  expect(answer).toContain('"status":"ok"');
});

describe('log', () => {
  it('cannot be forged by an address or a header and shows neither headers nor the query', async () => {
    const forged = '/api/v1/none%0A%7B%22level%22:50%7D?secret=1';
    await server.ask(forged, { headers: { Authorization: 'Bearer hidden-word', 'X-Odd': 'a\tb' } });
    const lines = server.log.join('').split('\n').filter(Boolean);
    for (const line of lines) expect(() => JSON.parse(line) as unknown).not.toThrow();
    expect(lines.join('\n')).not.toMatch(/hidden-word|secret|x-odd|user-agent/i);
    expect(lines.some((line) => line.includes('none%0A'))).toBe(true);
  });

  it('warns once of a full server, not with every refusal', async () => {
    const full = await startTestServer({
      runner: { ...constantRunner(''), refuseWhenFull: () => failWith(queueFull('requests', 1, 2)) },
    });
    for (let i = 0; i < 5; i++) expect((await full.postJson('/api/v1/simulations', DESIGN)).status).toBe(503);
    const levels = full.log.map((line) => (JSON.parse(line) as { level: number }).level);
    expect(levels).toEqual([40, 30, 30, 30, 30]);
    await full.close();
  });
});
