import { describe, expect, it } from 'vitest';
import { ensureBuild } from '../server/ensure-build.ts';
import type { Reply } from '../server/http-client.ts';
import { askPort } from '../server/http-client.ts';
import { startServe } from '../server/serve-process.ts';
import { milliseconds, tell, timed } from './figures.ts';
import { beside } from './machine-delay.ts';

const [GREEDY, VICTIM] = ['127.0.0.1', '127.0.0.2'];
const SMALL = { mat: { rows: 8, columns: 8 } };
const HEAVY = {
  mat: { rows: 128, columns: 128 },
  programme: Array.from({ length: 12 }, (_, i) => ({ row: i, column: i })),
};
const RUNS = 10;

describe('S7', () => {
  it('a single run of one client is answered within 2 s beside another that fills everything', async () => {
    await ensureBuild();
    const serving = await startServe(['--rate', '1000000']);
    const post = (path: string, value: unknown, from: string): Promise<Reply> =>
      askPort(serving.port, path, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: typeof value === 'string' ? value : JSON.stringify(value),
        from,
      });
    const run = () => timed(() => post('/api/v1/simulations', SMALL, VICTIM));
    // The first run of a thread compiles its code.
    for (let i = 0; i < 4; i++) await run();
    const idle = (await run()).time;

    const sated = new AbortController();
    const statuses = new Map<number, number>();
    const press = async (path: string, value: unknown): Promise<void> => {
      while (!sated.signal.aborted) {
        const { status } = await post(path, value, GREEDY).catch(() => ({ status: 0 }));
        statuses.set(status, (statuses.get(status) ?? 0) + 1);
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    };
    const study = { kind: 'tolerance', design: SMALL, options: { draws: 100_000 } };
    const long = `${JSON.stringify({ ...SMALL, note: 'x' }).padEnd(1_000_000, ' ')}`;
    const lines = [
      ...Array.from({ length: 20 }, () => press('/api/v1/simulations', HEAVY)),
      ...Array.from({ length: 4 }, () => press('/api/v1/studies', study)),
      ...Array.from({ length: 4 }, () => press('/api/v1/advices', { mat: { rows: 16, columns: 16 } })),
      ...Array.from({ length: 4 }, () => press('/api/v1/simulations', long)),
    ];
    const refusals: number[] = [];
    const { value: longest, delay } = await beside('S7', async () => {
      await expect.poll(() => statuses.get(503) ?? 0, { timeout: 60_000 }).toBeGreaterThan(20);
      let most = 0;
      for (let i = 0; i < RUNS; i++) {
        const { value, time } = await run();
        expect(value.status).toBe(200);
        most = Math.max(most, time);
        const refused = await timed(() => post('/api/v1/studies', study, GREEDY));
        if (refused.value.status === 503) refusals.push(refused.time);
      }
      // Its jobs begin, too, and go on.
      const job = await post('/api/v1/studies', { ...study, options: { draws: 20 } }, VICTIM);
      expect(job.status).toBe(202);
      await expect
        .poll(async () => (await askPort(serving.port, String(job.headers['location']))).body, {
          timeout: 120_000,
        })
        .toContain('"state":"done"');
      return most;
    });
    sated.abort();
    serving.child.kill('SIGTERM');
    await Promise.all(lines);
    tell(
      'S7',
      `single run beside a client that fills everything, longest of ${RUNS}; with nothing beside`,
      `${milliseconds(longest)}; ${milliseconds(idle)}`,
      '≤ 2 s',
    );
    tell(
      'S7',
      `503 to that client, longest of ${refusals.length}`,
      milliseconds(Math.max(...refusals)),
      '≤ 50 ms',
    );
    expect(longest).toBeLessThanOrEqual(Math.max(2000, 5 * idle) + delay.longest);
    expect(refusals.length).toBeGreaterThan(0);
    expect(Math.max(...refusals)).toBeLessThanOrEqual(50 + 2 * delay.longest);
  });
});
