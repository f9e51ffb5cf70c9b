import { once } from 'node:events';
import type { IncomingMessage } from 'node:http';
import { request as httpRequest } from 'node:http';
import { afterEach, describe, expect, it } from 'vitest';
import { clientOf } from '../../server/client-of.ts';
import { createFairQueue } from '../../server/fair-queue.ts';
import type { Limits } from '../../server/limits.ts';
import type { RequestError } from '../../server/request-error.ts';
import type { Runner } from '../../server/task.ts';
import type { Reply, TestServer } from './http-client.ts';
import { constantRunner, startTestServer } from './http-client.ts';

const codeOf = (promise: Promise<unknown>): Promise<unknown> =>
  promise.then(
    () => 'in',
    (error: RequestError) => error.body.code,
  );

describe('places at the workers', () => {
  const share = { working: 2, long: 1, waiting: 2 };
  it('one client takes its share and no more; another finds a place at once', async () => {
    const queue = createFairQueue({ places: 3, waiting: 10, share });
    const leave = [await queue.enter({ client: 'a' }), await queue.enter({ client: 'a' })];
    const third = queue.enter({ client: 'a' });
    const fourth = queue.enter({ client: 'a' });
    expect(await codeOf(queue.enter({ client: 'a' }))).toBe('share-taken');
    expect(() => queue.refuseWhenFull('a')).toThrow('of one client');
    expect(await codeOf(queue.enter({ client: 'b' }))).toBe('in');
    leave[0]();
    expect(await codeOf(third)).toBe('in');
    queue.close();
    expect(await codeOf(fourth)).toBe('closing');
  });

  it('long work of one client leaves a place free, which its short work may use', async () => {
    const queue = createFairQueue({ places: 2, waiting: 10, share: { long: 1 } });
    await queue.enter({ client: 'a', long: true });
    const second = queue.enter({ client: 'a', long: true });
    const leave = await queue.enter({ client: 'a' });
    leave();
    expect(await codeOf(queue.enter({ client: 'b', long: true }))).toBe('in');
    queue.close();
    expect(await codeOf(second)).toBe('closing');
  });

  it('whoever has the fewest at work comes next', async () => {
    const queue = createFairQueue({ places: 2, waiting: 10 });
    const leave = [await queue.enter({ client: 'a' }), await queue.enter({ client: 'a' })];
    const order: string[] = [];
    for (const client of ['a', 'a', 'b'])
      queue.enter({ client }).then(
        () => order.push(client),
        () => {},
      );
    leave[0]();
    await expect.poll(() => order).toEqual(['b']);
    queue.close();
  });
});

describe('a client', () => {
  const named = (remoteAddress: string, headers: Record<string, string> = {}, header?: string): string =>
    clientOf(header)({ headers, socket: { remoteAddress } } as unknown as IncomingMessage);
  it('is its address; of an IPv6 address the network counts', () => {
    expect(named('10.0.0.1')).toBe('10.0.0.1');
    expect(named('::ffff:10.0.0.1')).toBe('10.0.0.1');
    expect(named('::ffff:a00:1')).toBe('10.0.0.1');
    expect(named('2001:db8:1:2::1.2.3.4')).toBe(named('2001:db8:1:2::9'));
    expect(named('2001:db8:1:2:3:4:5:6')).toBe(named('2001:db8:1:2::9'));
    expect(named('2001:db8:1:2::9')).not.toBe(named('2001:db8:1:3::9'));
    expect(named('fe80::1%eth0')).toBe(named('fe80::2%eth0'));
  });

  it('is what the proxy says, where the operator names the header, and its last word counts', () => {
    const headers = { 'x-forwarded-for': 'forged, 10.0.0.7' };
    expect(named('127.0.0.1', headers)).toBe('127.0.0.1');
    expect(named('127.0.0.1', headers, 'X-Forwarded-For')).toBe('10.0.0.7');
    expect(named('127.0.0.1', {}, 'X-Forwarded-For')).toBe('127.0.0.1');
  });
});

let server: TestServer;
afterEach(() => server?.close());
const start = async (runner: Runner, limits: Partial<Limits> = {}, clientHeader?: string): Promise<void> => {
  server = await startTestServer({ runner, limits, clientHeader });
};
const STUDY = { kind: 'scale', design: { mat: { rows: 4, columns: 4 } } };
const post = (path: string, value: unknown, from: string): Promise<Reply> =>
  server.ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(value),
    from,
  });
const [GREEDY, VICTIM] = ['127.0.0.1', '127.0.0.2'];
const bodyOf = (reply: Reply): Record<string, unknown> => JSON.parse(reply.body) as Record<string, unknown>;

/** Work of one client never ends; that of others is done at once. */
const endlessFor = (greedy: string): Runner => ({
  threads: 1,
  run: (_task, { signal, client } = {}) =>
    client === greedy
      ? new Promise((_resolve, reject) => signal?.addEventListener('abort', () => reject(new Error('ended'))))
      : Promise.resolve({ body: new TextEncoder().encode('{"points":[]}') }),
  close: async () => {},
});

describe('a server that one client fills', () => {
  it('refuses it its share of the queue, and takes and begins the job of another', async () => {
    await start(endlessFor(GREEDY), { jobQueue: 6, jobShare: 3 });
    const replies = [];
    for (let i = 0; i < 5; i++) replies.push(await post('/api/v1/studies', STUDY, GREEDY));
    // One is worked on, three wait.
    expect(replies.map(({ status }) => status)).toEqual([202, 202, 202, 202, 503]);
    expect(bodyOf(replies[4])).toMatchObject({ code: 'share-taken', limit: 3 });
    expect(Number(replies[4].headers['retry-after'])).toBeGreaterThan(0);
    const other = await post('/api/v1/studies', STUDY, VICTIM);
    expect(other.status).toBe(202);
    const path = String(other.headers['location']);
    await expect.poll(async () => (await server.ask(path)).body).toMatch(/"state":"(done|failed)"/);
  });

  it('keeps the results of others when it ends many jobs', async () => {
    await start(constantRunner('{}'), { jobsKept: 3 });
    const fit = { design: {}, captures: [{ text: 'time_ns,u_mV\n0,1\n' }], unknowns: [] };
    const done = async (from: string): Promise<string> => {
      const path = String((await post('/api/v1/fits', fit, from)).headers['location']);
      await expect.poll(async () => (await server.ask(path)).body).toContain('"state":"done"');
      return path;
    };
    const kept = await done(VICTIM);
    const own = [];
    for (let i = 0; i < 5; i++) own.push(await done(GREEDY));
    expect((await server.ask(`${kept}/result`)).status).toBe(200);
    const statuses = await Promise.all(own.map(async (path) => (await server.ask(path)).status));
    expect(statuses).toEqual([404, 404, 404, 200, 200]);
  });

  it('counts by the header that the proxy sets', async () => {
    await start(constantRunner('{}'), { requestsPerMinute: 2 }, 'X-Client');
    const ask = async (client: string): Promise<number> =>
      (await server.ask('/api/v1/schema', { headers: { 'X-Client': client } })).status;
    expect([await ask('a'), await ask('a'), await ask('a'), await ask('b')]).toEqual([200, 200, 429, 200]);
  });
});

describe('memory', () => {
  it('of results: so many bytes are kept, the newest whatever it has', async () => {
    await start(constantRunner(`"${'x'.repeat(98)}"`), { resultBytes: 250 });
    const fit = { design: {}, captures: [{ text: 'time_ns,u_mV\n0,1\n' }], unknowns: [] };
    const paths: string[] = [];
    for (let i = 0; i < 4; i++) {
      paths.push(String((await post('/api/v1/fits', fit, GREEDY)).headers['location']));
      await expect.poll(async () => (await server.ask(paths[i])).body).toContain('"state":"done"');
    }
    const statuses = await Promise.all(paths.map(async (path) => (await server.ask(path)).status));
    expect(statuses).toEqual([404, 404, 200, 200]);
  });

  it('of bodies on their way: a client has its share, and the place comes back', async () => {
    await start(constantRunner('{}'), { uploadBytes: 300, uploadShare: 150, captureBytes: 200 });
    /** Announces a body; resolves when the server has heard of it. */
    const announce = async (from: string, length: number) => {
      const heard = once(server.server, 'request');
      const sent = httpRequest({
        port: server.port,
        host: '127.0.0.1',
        localAddress: from,
        method: 'PUT',
        path: `/api/v1/captures/${from}-${length}`,
        headers: { 'Content-Type': 'text/csv', 'Content-Length': String(length) },
      });
      const answered = once(sent, 'response') as Promise<[IncomingMessage]>;
      sent.flushHeaders();
      await heard;
      const status = answered.then(([response]) => response.resume().statusCode);
      return { status, send: () => void sent.end('x'.repeat(length)) };
    };
    const first = await announce(GREEDY, 100);
    const second = await announce(GREEDY, 99);
    expect(await second.status).toBe(503);
    const other = await announce(VICTIM, 120);
    first.send();
    other.send();
    expect([await first.status, await other.status]).toEqual([201, 201]);
    const third = await announce(GREEDY, 98);
    third.send();
    expect(await third.status).toBe(201);
  });
});
