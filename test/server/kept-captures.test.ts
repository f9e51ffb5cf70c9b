import { rmSync, mkdtempSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { perform } from '../../server/perform.ts';
import { thinComparison } from '../../server/thin-comparison.ts';
import type { Runner, Task } from '../../server/task.ts';
import type { TestServer } from './http-client.ts';
import { startTestServer } from './http-client.ts';

const CSV = `time_ns,u_mV\n${Array.from({ length: 400 }, (_, i) => `${i},${50 * Math.exp(-(((i - 200) / 60) ** 2))}`).join('\n')}\n`;
const DESIGN = { mat: { rows: 4, columns: 4 } };

let folder: string;
let server: TestServer;
let tasks: Task[];
/** Does the work here, as a worker would, and keeps what it was given. */
const runner: Runner = {
  threads: 1,
  run: async (task) => {
    tasks.push(task);
    return perform(task, () => false);
  },
  close: async () => {},
};
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'strobewright-kept-'));
  tasks = [];
  server = await startTestServer({ runner, dataFolder: folder });
  const headers = { 'Content-Type': 'text/csv' };
  expect((await server.ask('/api/v1/captures/one', { method: 'PUT', headers, body: CSV })).status).toBe(201);
});
afterEach(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

async function ended(path: string): Promise<{ state: string; error: { code: string } | null }> {
  await expect.poll(async () => (await server.ask(path)).body).toMatch(/"state":"(done|failed)"/);
  return JSON.parse((await server.ask(path)).body) as { state: string; error: { code: string } | null };
}
const fit = (captures: readonly object[], maxIterations = 1) =>
  server.postJson('/api/v1/fits', { design: DESIGN, captures, unknowns: [], maxIterations });

describe('captures kept on the server', () => {
  it('reach the work by their place alone, however often they are named', async () => {
    const eight = Array.from({ length: 8 }, () => ({ saved: 'one' }));
    expect((await ended(String((await fit(eight)).headers['location']))).state).toBe('done');
    expect(JSON.stringify(tasks).length).toBeLessThan(CSV.length);
  });

  it('give the answer that their text gives', async () => {
    const answers = [];
    for (const capture of [
      { saved: 'one', label: 'x' },
      { text: CSV, label: 'x' },
    ]) {
      const path = String((await fit([capture])).headers['location']);
      await ended(path);
      answers.push((await server.ask(`${path}/result`)).body);
    }
    expect(answers[0]).toBe(answers[1]);
  });

  it('that are removed before their turn end the job by name', async () => {
    const made = await startTestServer({
      runner: {
        ...runner,
        run: async (task) => {
          for (const place of readdirSync(join(folder, 'captures')))
            rmSync(join(folder, 'captures', place), { recursive: true });
          return perform(task, () => false);
        },
      },
      dataFolder: folder,
    });
    const body = { design: DESIGN, captures: [{ saved: 'one' }], unknowns: [] };
    const path = String((await made.postJson('/api/v1/fits', body)).headers['location']);
    await expect.poll(async () => (await made.ask(path)).body).toContain('"state":"failed"');
    expect((await made.ask(path)).body).toContain('"code":"not-found"');
    await made.close();
  });

  it('are priced by their bytes before anything is read', async () => {
    const small = await startTestServer({ runner, dataFolder: folder, limits: { jobWork: 1e9 } });
    const large = '9'.repeat(40_000_000);
    const headers = { 'Content-Type': 'text/csv' };
    await small.ask('/api/v1/captures/large', { method: 'PUT', headers, body: large });
    const ask = (saved: string) =>
      small.postJson('/api/v1/fits', {
        design: DESIGN,
        captures: [{ saved }],
        unknowns: [],
        maxIterations: 1,
      });
    expect(JSON.parse((await ask('large')).body)).toMatchObject({ code: 'too-expensive', limit: 1e9 });
    expect((await ask('one')).status).toBe(202);
    await small.close();
  });
});

describe('a comparison that is sent', () => {
  it('keeps every peak of its difference, and says of how many samples it is', () => {
    const time = Float64Array.from({ length: 100_003 }, (_, i) => i);
    const difference = time.map((i) => Math.sin(i));
    difference[77_777] = 9;
    difference[55_555] = -9;
    const all = { time, measured: time, predicted: time, difference, rms: 1 };
    const sent = thinComparison(all, 1000);
    expect(sent.time.length).toBeLessThanOrEqual(1000);
    expect([Math.max(...sent.difference), Math.min(...sent.difference)]).toEqual([9, -9]);
    expect(sent.time.every((t, i) => i === 0 || t > sent.time[i - 1])).toBe(true);
    expect(sent).toMatchObject({ samplesCompared: 100_003, rms: 1 });
    expect(thinComparison(all, 200_000)).toBe(all);
  });
});
