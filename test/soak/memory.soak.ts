import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ensureBuild } from '../server/ensure-build.ts';
import { askPort } from '../server/http-client.ts';
import { startServe } from '../server/serve-process.ts';
import { quantile, tell } from './figures.ts';

const RUNS = 10_000;
/** One core and a short cycle: small in time, the same in kind. */
const DESIGN = JSON.stringify({ mat: { rows: 2, columns: 2 } });

describe('S7', () => {
  it('memory after 10,000 runs is at most 1.1 times that after 1,000', async () => {
    await ensureBuild();
    const serving = await startServe(['--workers', '1', '--rate', '1000000']);
    const memory = (): number =>
      Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${serving.child.pid}/status`, 'utf8'))?.[1]);
    const samples = new Map<number, number[]>([
      [1000, []],
      [RUNS, []],
    ]);
    let done = 0;
    const line = async (): Promise<void> => {
      while (done < RUNS) {
        done++;
        const reply = await askPort(
          serving.port,
          '/api/v1/simulations?estimateError=false&contributions=false',
          {
            method: 'POST',
            headers: { 'Content-Type': 'application/json' },
            body: DESIGN,
          },
        );
        expect(reply.status).toBe(200);
        // The garbage of a moment is not memory that is kept: take the least of many readings.
        for (const [at, values] of samples) if (done > at - 500 && done <= at) values.push(memory());
      }
    };
    await Promise.all([line(), line()]);
    expect(await serving.end('SIGTERM')).toBe(0);
    const [first, last] = [...samples.values()].map((values) => quantile(values, 0.05) / 1024);
    tell(
      'S7',
      'memory after 1,000 and 10,000 runs',
      `${first.toFixed(0)} MB, ${last.toFixed(0)} MB, ratio ${(last / first).toFixed(2)}`,
      '≤ 1.1',
    );
    expect(last / first).toBeLessThanOrEqual(1.1);
  });
});
