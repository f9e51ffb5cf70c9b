import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ensureBuild } from '../server/ensure-build.ts';
import { askPort } from '../server/http-client.ts';
import type { ServeProcess } from '../server/serve-process.ts';
import { startServe } from '../server/serve-process.ts';
import { patience, quantile, tell } from './figures.ts';

const RUNS = 10_000;
/** ms; a slow machine makes fewer runs and says how many. */
const PATIENCE = 100_000;
/** Of what is kept after 1,000 runs. */
const GROWTH = 1.1;
/** One core and a short cycle: small in time, the same in kind. */
const DESIGN = JSON.stringify({ mat: { rows: 2, columns: 2 } });

/** KB that a process holds. */
const memoryOf = ({ child }: ServeProcess): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8'))?.[1]);

const FITS = Number(process.env.SOAK_FITS ?? 100);
/** ms; at least the first fit and five more are made whatever the machine. */
const FIT_PATIENCE = 120_000;

/** A capture of 60 MB: a read of a mat beside columns that are not asked for, in long numbers. */
function largeCapture(): Buffer {
  const rows = 110_000;
  const others = `,0.${'0'.repeat(34)}`.repeat(14);
  const lines = Array.from({ length: rows }, (_, i) => {
    const time = (i * 3000) / rows;
    const value = 50 * Math.exp(-(((time - 300) / 80) ** 2)) + 0.3 * Math.sin(i * 12.9898);
    return `${time.toFixed(6)},${value.toFixed(6)}${others}\n`;
  });
  const names = Array.from({ length: 14 }, (_, i) => `,c${i}_V`).join('');
  return Buffer.from(`time_ns,u_mV${names}\n${lines.join('')}`);
}

describe('S7', () => {
  it('memory after 100 fits of eight captures of 60 MB is at most 1.3 times that after the first', async () => {
    await ensureBuild();
    const folder = mkdtempSync(join(tmpdir(), 'strobewright-fits-'));
    const serving = await startServe(['--workers', '2', '--rate', '1000000', '--data', folder]);
    const body = largeCapture();
    const type = { 'Content-Type': 'text/csv' };
    for (const name of ['a', 'b']) {
      const kept = await askPort(serving.port, `/api/v1/captures/${name}`, {
        method: 'PUT',
        headers: type,
        body,
      });
      expect(kept.status).toBe(201);
    }
    const captures = Array.from({ length: 8 }, (_, i) => ({ saved: 'ab'[i % 2], trace: 1 }));
    const request = JSON.stringify({
      design: { mat: { rows: 4, columns: 4 } },
      captures,
      unknowns: ['mutual'],
      maxIterations: 2,
    });
    const readings: number[] = [];
    const fit = async (): Promise<void> => {
      const headers = { 'Content-Type': 'application/json' };
      const reply = await askPort(serving.port, '/api/v1/fits', { method: 'POST', headers, body: request });
      expect(reply.status).toBe(202);
      for (;;) {
        const view = (await askPort(serving.port, String(reply.headers['location']))).body;
        if (view.includes('"state":"failed"')) throw new Error(`fit ${readings.length + 1} failed: ${view}`);
        if (view.includes('"state":"done"')) return;
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
    };
    const patient = patience(FIT_PATIENCE);
    while (readings.length < FITS && (readings.length < 6 || patient())) {
      await fit();
      readings.push(memoryOf(serving) / 1024);
    }
    expect(await serving.end('SIGTERM')).toBe(0);
    rmSync(folder, { recursive: true, force: true });
    // Two threads take turns, so the second fit is the first of its thread.
    const [first, last] = [Math.max(...readings.slice(0, 2)), quantile(readings.slice(-10), 0.5)];
    tell(
      'S7',
      `memory after the first and ${readings.length} fits of eight captures of ${Math.round(body.length / 1e6)} MB; greatest`,
      `${first.toFixed(0)} MB, ${last.toFixed(0)} MB, ratio ${(last / first).toFixed(2)}; ${Math.max(...readings).toFixed(0)} MB`,
      '≤ 1.3',
    );
    expect(last / first).toBeLessThanOrEqual(1.3);
  });

  it('memory after 10,000 runs is at most 1.1 times that after 1,000', async () => {
    await ensureBuild();
    const serving = await startServe(['--workers', '1', '--rate', '1000000']);
    const memory = (): number => memoryOf(serving);
    const readings: number[] = [];
    const runTo = async (runs: number, least: number): Promise<void> => {
      const patient = patience(PATIENCE);
      const line = async (): Promise<void> => {
        while (readings.length < runs && (readings.length < least || patient())) {
          const reply = await askPort(
            serving.port,
            '/api/v1/simulations?estimateError=false&contributions=false',
            { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: DESIGN },
          );
          expect(reply.status).toBe(200);
          readings.push(memory());
        }
      };
      await Promise.all([line(), line()]);
    };
    // The garbage of a moment is not memory that is kept: take the least of the last 500 readings.
    const kept = (runs: number): number => quantile(readings.slice(runs - 500, runs), 0.05) / 1024;
    await runTo(RUNS, 2000);
    const first = kept(1000);
    let [before, last] = [first, kept(readings.length)];
    // A heap grows in steps, and where a step falls late it stands as growth. What is kept by every run goes on growing:
    // as many runs again must then add no more than a tenth of what is allowed.
    const stepped = last / first > GROWTH;
    if (stepped) {
      before = last;
      await runTo(2 * readings.length, 2 * readings.length);
      last = kept(readings.length);
    }
    expect(await serving.end('SIGTERM')).toBe(0);
    tell(
      'S7',
      `memory after 1,000 and ${readings.length} runs`,
      `${first.toFixed(0)} MB, ${last.toFixed(0)} MB, ratio ${(last / first).toFixed(2)}`,
      '≤ 1.1',
    );
    if (stepped) tell('S7', 'memory after these against half of them', (last / before).toFixed(3), '≤ 1.01');
    expect(last / before).toBeLessThanOrEqual(stepped ? 1 + (GROWTH - 1) / 10 : GROWTH);
  });
});
