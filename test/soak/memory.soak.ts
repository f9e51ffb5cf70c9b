import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ensureBuild } from '../server/ensure-build.ts';
import { askPort } from '../server/http-client.ts';
import { startServe } from '../server/serve-process.ts';
import { patience, quantile, tell } from './figures.ts';

const RUNS = 10_000;
/** ms; a slow machine makes fewer runs and says how many. */
const PATIENCE = 100_000;
/** One core and a short cycle: small in time, the same in kind. */
const DESIGN = JSON.stringify({ mat: { rows: 2, columns: 2 } });

describe('S7', () => {
  it('memory after 10,000 runs is at most 1.1 times that after 1,000', async () => {
    await ensureBuild();
    const serving = await startServe(['--workers', '1', '--rate', '1000000']);
    const memory = (): number =>
      Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${serving.child.pid}/status`, 'utf8'))?.[1]);
    const readings: number[] = [];
    const patient = patience(PATIENCE);
    const line = async (): Promise<void> => {
      while (readings.length < RUNS && (readings.length < 2000 || patient())) {
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
        readings.push(memory());
      }
    };
    await Promise.all([line(), line()]);
    expect(await serving.end('SIGTERM')).toBe(0);
    // The garbage of a moment is not memory that is kept: take the least of the last 500 readings.
    const kept = (runs: number): number => quantile(readings.slice(runs - 500, runs), 0.05) / 1024;
    const [first, last] = [kept(1000), kept(readings.length)];
    tell(
      'S7',
      `memory after 1,000 and ${readings.length} runs`,
      `${first.toFixed(0)} MB, ${last.toFixed(0)} MB, ratio ${(last / first).toFixed(2)}`,
      '≤ 1.1',
    );
    expect(last / first).toBeLessThanOrEqual(1.1);
  });
});
