import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { CHANNEL_RUNS } from '../../engine/channel/channel-report.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { predictCost } from '../../engine/estimates/cost.ts';
import { diagnosisRuns, fitRuns } from '../../engine/fitting/bench-cost.ts';
import { FIT_ITERATIONS } from '../../engine/fitting/fit-design.ts';
import { createJobStore } from '../../server/jobs.ts';
import type { Limits } from '../../server/limits.ts';
import { LIMITS } from '../../server/limits.ts';
import { createLogger } from '../../server/logger.ts';
import { capturesWork } from '../../server/price.ts';
import type { Runner } from '../../server/task.ts';
import type { TestServer } from './http-client.ts';
import { constantRunner, startTestServer } from './http-client.ts';

/** What test/server/price.test.ts and security.test.ts do not hold at its edge: one less, at it, one more. */
const DESIGN = { mat: { rows: 4, columns: 4 } };
const { work } = predictCost(checkDesign(DESIGN));
const CAPTURE = { text: 'time_ns,u_mV\n0,1\n1,2\n' };
const BYTES = CAPTURE.text.length;

async function withServer<T>(
  limits: Partial<Limits>,
  ask: (server: TestServer) => Promise<T>,
  runner: Runner = constantRunner('{}'),
): Promise<T> {
  const server = await startTestServer({ runner, limits });
  try {
    return await ask(server);
  } finally {
    await server.close();
  }
}

const codeOf = (body: string): unknown => (JSON.parse(body) as { code?: unknown }).code;

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

/** A job that goes on until it is cancelled. */
const endless: Runner = {
  threads: 1,
  run: (_task, { signal } = {}) =>
    new Promise((_resolve, reject) =>
      signal?.addEventListener('abort', () => reject(new Error('cancelled'))),
    ),
  close: async () => {},
};

describe('the price of work', () => {
  const fit = { design: DESIGN, captures: [CAPTURE, CAPTURE], unknowns: ['mutual', 'coreFlux', 'coreRate'] };
  it.each([
    [
      'a fit: two captures, three unknowns',
      'jobWork',
      '/api/v1/fits',
      fit,
      work * 2 * fitRuns(3, FIT_ITERATIONS) + capturesWork([BYTES, BYTES], fitRuns(3, FIT_ITERATIONS)),
    ],
    [
      'a fit that states its iterations',
      'jobWork',
      '/api/v1/fits',
      { ...fit, maxIterations: 7 },
      work * 2 * fitRuns(3, 7) + capturesWork([BYTES, BYTES], fitRuns(3, 7)),
    ],
    [
      'a diagnosis',
      'jobWork',
      '/api/v1/diagnoses',
      { design: DESIGN, captures: [CAPTURE] },
      work * diagnosisRuns() + capturesWork([BYTES], diagnosisRuns()),
    ],
    ['a channel', 'singleWork', '/api/v1/channels', DESIGN, work * CHANNEL_RUNS],
  ])('%s: refused above its limit, taken at it and below it', async (_name, limit, path, body, price) => {
    const statusAt = (value: number) =>
      withServer({ [limit]: value }, async (server) => {
        const reply = await server.postJson(path, body);
        return [reply.status < 300 ? 'taken' : reply.status, codeOf(reply.body)];
      });
    expect(await statusAt(price - 1)).toEqual([422, 'too-expensive']);
    expect(await statusAt(price)).toEqual(['taken', undefined]);
    expect(await statusAt(price + 1)).toEqual(['taken', undefined]);
  });
});

describe('jobs', () => {
  const start = (server: TestServer) => server.postJson('/api/v1/studies', { kind: 'scale', design: DESIGN });

  it('as many may wait as the limit says, and one more is refused with Retry-After', () =>
    withServer(
      { jobQueue: 2 },
      async (server) => {
        const replies = [];
        for (let i = 0; i < 4; i++) replies.push(await start(server));
        // The first is being worked on, two wait.
        expect(replies.map(({ status }) => status)).toEqual([202, 202, 202, 503]);
        expect(JSON.parse(replies[3].body)).toMatchObject({ code: 'queue-full', limit: 2 });
        expect(Number(replies[3].headers['retry-after'])).toBeGreaterThan(0);
        await server.ask(String(replies[1].headers['location']), { method: 'DELETE' });
        expect((await start(server)).status).toBe(202);
      },
      endless,
    ));

  it('hold nothing of what they were given once they have ended', async () => {
    const held: WeakRef<object>[] = [];
    const jobs = createJobStore(constantRunner('{}'), LIMITS, createLogger('silent'));
    const begin = (work: (capture: Buffer) => Promise<void>): string => {
      const capture = Buffer.alloc(1e6);
      held.push(new WeakRef(capture));
      return jobs.start('fit', () => work(capture)).id;
    };
    const ids = [
      begin(async (capture) => void capture.fill(1)),
      begin(async (capture) => Promise.reject(new Error(String(capture.length)))),
    ];
    for (const id of ids) await expect.poll(() => jobs.view(id).state).toMatch(/done|failed/);
    await expect
      .poll(() => {
        collectGarbage();
        return held.map((capture) => capture.deref() === undefined);
      })
      .toEqual([true, true]);
    await jobs.close();
  });

  it('the last ended ones are kept, older ones are forgotten', () =>
    withServer({ jobsKept: 2 }, async (server) => {
      const fit = { design: DESIGN, captures: [CAPTURE], unknowns: ['mutual'] };
      const places: string[] = [];
      for (let i = 0; i < 3; i++) {
        places.push(String((await server.postJson('/api/v1/fits', fit)).headers['location']));
        await expect.poll(async () => (await server.ask(places[i])).body).toContain('"state":"done"');
      }
      const statuses = await Promise.all(places.map(async (place) => (await server.ask(place)).status));
      expect(statuses).toEqual([404, 200, 200]);
    }));
});

describe('a capture', () => {
  const put = (server: TestServer, body: string, headers: Record<string, string> = {}) =>
    server.ask('/api/v1/captures/a', {
      method: 'PUT',
      headers: { 'Content-Type': 'text/csv', ...headers },
      body,
    });

  it('of the limit is kept, one byte more is refused with 413 and the limit', () =>
    withServer({ captureBytes: 100 }, async (server) => {
      const replies = [];
      for (const bytes of [99, 100, 101]) replies.push(await put(server, '1'.repeat(bytes)));
      expect(replies.map(({ status }) => status)).toEqual([201, 200, 413]);
      expect(JSON.parse(replies[2].body)).toMatchObject({ code: 'too-large', limit: 100 });
    }));

  it('that does not say how long it is, is held to the limit while it comes, and nothing of it is kept', () =>
    withServer({ captureBytes: 100 }, async (server) => {
      const reply = await put(server, '1'.repeat(100_000), { 'Transfer-Encoding': 'chunked' });
      expect([reply.status, codeOf(reply.body)]).toEqual([413, 'too-large']);
      expect((await server.ask('/api/v1/captures/a')).status).toBe(404);
    }));
});
