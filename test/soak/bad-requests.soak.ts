import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LIMITS } from '../../server/limits.ts';
import { createWorkerPool } from '../../server/worker-pool.ts';
import type { Runner } from '../../server/task.ts';
import { BAD_REQUESTS } from '../server/bad-requests.ts';
import { ensureBuild } from '../server/ensure-build.ts';
import type { Reply, TestServer } from '../server/http-client.ts';
import { startTestServer } from '../server/http-client.ts';
import { milliseconds, patience, quantile, tell, timed } from './figures.ts';
import { beside } from './machine-delay.ts';
import type { OpenApi } from './request-arbitrary.ts';
import { requestArbitrary } from './request-arbitrary.ts';

const SEED = 20_261_125;
const COUNT = 5000;
/** ms. */
const PATIENCE = 100_000;

let server: TestServer;
let pools: Runner[];
beforeAll(async () => {
  await ensureBuild();
  const pool = { grace: LIMITS.grace, queue: 100, timeLimit: 10_000 };
  pools = [createWorkerPool({ ...pool, threads: 1 }), createWorkerPool({ ...pool, threads: 1 })];
  server = await startTestServer({
    runner: pools[0],
    jobRunner: pools[1],
    // Requests that happen to be good stay small, so that the bad ones are what is measured.
    limits: { singleWork: 2e8, jobWork: 2e8, jobTime: 2000, jobQueue: 100_000, jobShare: 100_000 },
  });
});
afterAll(async () => {
  await server.close();
  await Promise.all(pools.map((pool) => pool.close()));
});

const INSIDE = /\bat \S+:\d+:\d+|node_modules|\/server\/\w|\/engine\/\w|\.ts\b|\b[A-Z]\w*Error: |\/tmp\//;

function judge(reply: Reply, request: string): void {
  expect(reply.status, request).toBeLessThan(500);
  expect(reply.headers['x-content-type-options'], request).toBe('nosniff');
  expect(reply.headers['content-security-policy'], request).toContain("default-src 'self'");
  if (reply.status < 400 || reply.body === '') return;
  expect(reply.body, request).not.toMatch(INSIDE);
  expect(Object.keys(JSON.parse(reply.body) as object), request).toEqual([
    'code',
    'field',
    'message',
    'limit',
  ]);
}

describe('S1', () => {
  it('no generated or hand-written request gets our inside, an answer of 500 or more, or ends the server', async () => {
    const document = JSON.parse((await server.ask('/api/v1/openapi.json')).body) as OpenApi;
    const generated = fc.sample(requestArbitrary(document), { numRuns: COUNT, seed: SEED });
    const requests = [...BAD_REQUESTS, ...generated];
    const patient = patience(PATIENCE);
    const times: number[] = [];
    const statuses = new Map<number, number>();
    let next = 0;
    const line = async (): Promise<void> => {
      while (next < requests.length && patient()) {
        const { path, sent } = requests[next++];
        const { value, time } = await timed(() => server.ask(path, sent));
        times.push(time);
        statuses.set(value.status, (statuses.get(value.status) ?? 0) + 1);
        judge(
          value,
          `${sent.method ?? 'GET'} ${path.slice(0, 200)} ${String(sent.body ?? '').slice(0, 500)}`,
        );
      }
    };
    const { delay } = await beside('S1', () => Promise.all([line(), line(), line(), line()]));
    expect((await server.ask('/healthz')).status).toBe(200);
    const answers = [...statuses].sort(([a], [b]) => a - b).map(([status, count]) => `${count} × ${status}`);
    tell(
      'S1',
      `${times.length} of ${requests.length} requests, seed ${SEED}`,
      answers.join(', '),
      'none ≥ 500',
    );
    tell(
      'S1',
      'longest answer, 99th percentile',
      `${milliseconds(Math.max(...times))}, ${milliseconds(quantile(times, 0.99))}`,
      '≤ 2 s',
    );
    expect(Math.max(...times)).toBeLessThanOrEqual(2000 + delay.longest);
    // Most must be refused, or the generator makes nothing bad.
    expect((statuses.get(200) ?? 0) / times.length).toBeLessThan(0.5);
  });
});
