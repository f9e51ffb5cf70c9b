import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { predictCost, WINDOW_RUNS } from '../../engine/estimates/cost.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { readDemoDesigns } from '../../server/demo-designs.ts';
import { LIMITS } from '../../server/limits.ts';
import type { TestServer } from './http-client.ts';
import { constantRunner, startTestServer } from './http-client.ts';

const HISTORY = Array.from({ length: 60 }, (_, i) => ({ row: i, column: i }));
const DESIGN = { mat: { rows: 4, columns: 4 } };
const { work, samples } = predictCost(checkDesign(DESIGN));

async function codesAt(limits: Record<string, number>, path: string): Promise<[number, unknown]> {
  const server = await startTestServer({ runner: constantRunner('{}'), limits });
  const reply = await server.postJson(path, DESIGN);
  await server.close();
  return [reply.status, (JSON.parse(reply.body) as { code?: string }).code];
}

describe('work is priced before it is queued', () => {
  it.each([
    ['work of one run', 'singleWork', work, '/api/v1/simulations', 'too-expensive'],
    ['work of a window', 'singleWork', work * WINDOW_RUNS, '/api/v1/windows', 'too-expensive'],
    ['samples of a cycle', 'samples', samples, '/api/v1/simulations', 'too-many-samples'],
  ])('%s: refused above its limit, done at it and below it', async (_name, limit, price, path, code) => {
    expect(await codesAt({ [limit]: price - 1 }, path)).toEqual([422, code]);
    expect(await codesAt({ [limit]: price }, path)).toEqual([200, undefined]);
    expect(await codesAt({ [limit]: price + 1 }, path)).toEqual([200, undefined]);
  });

  it('never states less than what a run then takes', () => {
    for (const { id, design } of readDemoDesigns().values()) {
      const checked = checkDesign(design);
      const run = simulate(checked, { estimateError: false, contributions: false });
      const { steps, classes, sections } = run.method;
      const price = predictCost(checked);
      expect(price.work, id).toBeGreaterThanOrEqual(steps * (classes + sections));
      expect(price.samples, id).toBeGreaterThanOrEqual(run.time.length);
    }
  });

  it('grows with the cycles before the observed one, which are run as well, if in longer steps', () => {
    const cycles = (n: number): number =>
      predictCost(
        checkDesign({
          mat: { rows: 4, columns: 4 },
          programme: Array.from({ length: n }, () => ({ row: 0, column: 0 })),
        }),
      ).work;
    expect(cycles(10) / cycles(1)).toBeGreaterThan(3);
    expect(cycles(20) / cycles(10)).toBeGreaterThan(1.5);
  });
});

describe('legal fields with an illegal product', () => {
  let server: TestServer;
  beforeAll(async () => {
    server = await startTestServer({ runner: constantRunner('{}') });
  });
  afterAll(() => server.close());

  it.each([
    ['short steps of a long cycle', { cycle: { period: '10 us' }, numerics: { step: '3 ps' } }],
    ['a large mat and a long history', { mat: { rows: 128, columns: 128 }, programme: HISTORY }],
    [
      'a large mat finely cut in small steps',
      {
        mat: { rows: 128, columns: 128 },
        numerics: { step: '10 ps', sections: 1024 },
        cycle: { period: '8 us' },
      },
    ],
  ])('are refused: %s', async (_name, design) => {
    expect(() => checkDesign(design)).not.toThrow();
    const reply = await server.postJson('/api/v1/windows', design);
    expect(reply.status).toBe(422);
    expect(JSON.parse(reply.body)).toMatchObject({
      code: expect.stringMatching(/^too-/),
      limit: expect.any(Number),
    });
  });

  it('the largest mat of the defaults is not', () => {
    const largest = checkDesign({ mat: { rows: 128, columns: 128 } });
    expect(predictCost(largest).work * WINDOW_RUNS).toBeLessThanOrEqual(LIMITS.singleWork);
  });
});
