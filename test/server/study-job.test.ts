import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { evaluatePoint, planStudy, summarise } from '../../engine/studies/study.ts';
import { perform } from '../../server/perform.ts';
import { computePoints } from '../../server/study-job.ts';
import { studyJson } from '../../server/study-json.ts';
import { planText, readPlan, resultLines } from '../../server/study-lines.ts';
import { createWorkerPool } from '../../server/worker-pool.ts';
import { ensureBuild } from './ensure-build.ts';

const DYING = fileURLToPath(new URL('./workers/dying-worker.mjs', import.meta.url));

beforeAll(ensureBuild);

describe('a worker that is killed in a study', () => {
  it.each([1, 2])(
    'costs the point it had, by name, with %i workers; all others are as they would be',
    async (threads) => {
      const design = { mat: { rows: 4, columns: 4 }, numerics: { output: '5 ns', step: '5 ns' } };
      const plan = planStudy({ kind: 'tolerance', design, options: { draws: 8, stack: false } });
      const pool = createWorkerPool({
        threads,
        queue: Infinity,
        timeLimit: 60_000,
        grace: 100,
        filename: DYING,
      });
      try {
        const results = await computePoints(
          plan,
          plan.points.map((_, i) => i),
          { threads, run: (task) => pool.run(task), stopped: () => false, report: () => undefined },
        );
        const study = summarise(plan, results);
        expect(study.count).toEqual({ planned: 8, done: 8, failed: 1 });
        expect(study.failed).toEqual([
          { index: 3, name: 'draw 3', message: expect.stringMatching(/worker/iu) as string },
        ]);
        for (const i of [0, 1, 2, 4, 5, 6, 7]) expect(study.results[i]).toEqual(evaluatePoint(plan, i));
        expect(study.estimates[0]!.samples).toBe(7);
      } finally {
        await pool.close();
      }
    },
  );
});

describe('a study of many points', () => {
  const design = { mat: { rows: 4, columns: 4 } };
  const plan = planStudy({ kind: 'tolerance', design, options: { draws: 5000, stack: false } });
  const body = new TextEncoder().encode(planText(plan));

  /** How often others have their turn while something is done. */
  async function turnsDuring<T>(work: () => Promise<T>): Promise<[turns: number, result: T]> {
    let turns = 0;
    let going = true;
    const count = (): void => {
      turns++;
      if (going) setImmediate(count);
    };
    count();
    const result = await work();
    going = false;
    return [turns, result];
  }

  it('has a plan that is read back as it was, and others have their turn meanwhile', async () => {
    const [turns, read] = await turnsDuring(() => readPlan({ body }));
    expect(JSON.stringify(read)).toBe(JSON.stringify(plan));
    expect(turns).toBeGreaterThan(5);
  });

  it('has a result that a worker writes, and others have their turn while it is sent there', async () => {
    const point = evaluatePoint(plan, 0);
    const results = plan.points.map(({ name }, index) => ({ ...point, index, name }));
    const [turns, lines] = await turnsDuring(() => resultLines(results));
    expect(turns).toBeGreaterThan(5);
    const answer = perform({ kind: 'study-result', plan: body, results: lines }, () => false);
    expect(new TextDecoder().decode(answer.body) === studyJson(summarise(plan, results))).toBe(true);
    const none = perform({ kind: 'study-result', plan: body, results: await resultLines([]) }, () => false);
    expect(JSON.parse(new TextDecoder().decode(none.body))).toMatchObject({ count: { done: 0 } });
  });
});
