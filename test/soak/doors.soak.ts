import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulationJson } from '../../engine/export/serialise.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { JobView } from '../../server/job.ts';
import { ensureBuild, ROOT } from '../server/ensure-build.ts';
import { askPort } from '../server/http-client.ts';
import { runCli } from '../server/run-cli.ts';
import type { ServeProcess } from '../server/serve-process.ts';
import { startServe } from '../server/serve-process.ts';

const DEMO = join(ROOT, 'fixtures/designs/minimal.json');
const design = JSON.parse(readFileSync(DEMO, 'utf8')) as Record<string, unknown>;

/** What test/server holds for small work, once more where it takes longer. */
let serving: ServeProcess;
let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-jobs-'));
  serving = await startServe(['--workers', '2', '--data', folder]);
});
afterAll(async () => {
  await serving?.end();
  rmSync(folder, { recursive: true, force: true });
});

const ask = (path: string, method = 'GET') => askPort(serving.port, path, { method });
const post = (path: string, value: unknown) =>
  askPort(serving.port, path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(value),
  });
/** The events of a job until its last. */
function follow(path: string): Promise<{ event: string; view: JobView }[]> {
  return new Promise((resolve, reject) => {
    httpRequest({ host: '127.0.0.1', port: serving.port, path: `${path}/events` }, (response) => {
      let text = '';
      response.on('data', (chunk: Buffer) => (text += chunk.toString()));
      response.on('end', () =>
        resolve(
          [...text.matchAll(/event: (\w+)\ndata: (.*)\n\n/g)].map(([, event, data]) => ({
            event,
            view: JSON.parse(data) as JobView,
          })),
        ),
      );
    })
      .on('error', reject)
      .end();
  });
}

describe('the same input gives the same bytes', () => {
  it('simulate the largest demo through library, command line and HTTP', async () => {
    const path = join(ROOT, 'fixtures/designs/carillon-sequencer-64x64.json');
    const text = readFileSync(path, 'utf8');
    const library = simulationJson(simulate(checkDesign(JSON.parse(text))));
    const line = await runCli(['simulate', path, '--format', 'json']);
    const http = await post('/api/v1/simulations', JSON.parse(text));
    expect(http.status).toBe(200);
    expect(line.stdout === library).toBe(true);
    expect(http.body === library).toBe(true);
  });

  it.each([
    ['temperature', { steps: 2, coarse: 2 }],
    ['rate', { steps: 2, history: 1 }],
    ['sensitivity', { inputs: ['threshold', 'drive.x'] }],
  ])(
    '%s gives over HTTP, from two workers, the bytes of the command line with one',
    async (kind, options) => {
      const board = join(ROOT, 'fixtures/designs/classroom-board-first-try-4x4.json');
      const asked = { kind, design: JSON.parse(readFileSync(board, 'utf8')) as unknown, options };
      const path = String((await post('/api/v1/studies', asked)).headers['location']);
      expect((await follow(path)).at(-1)!.view.state).toBe('done');
      const flags = Object.entries(options).flatMap(([name, value]) => [
        '--option',
        `${name}=${JSON.stringify(value)}`,
      ]);
      const line = await runCli(['study', kind, board, '--workers', '1', '--format', 'json', ...flags]);
      expect(line.status).toBe(0);
      expect((await ask(`${path}/result`)).body === line.stdout).toBe(true);
    },
  );
});

describe('an advice', () => {
  const small = { mat: { rows: 2, columns: 2 }, selected: { row: 0, column: 1 } };
  const asked = { ...design, ...small, requirement: { margin: '30 mV' } };

  it('is a job with progress whose answer is the window with advice, as on the command line', async () => {
    const accepted = await post('/api/v1/advices', asked);
    expect(accepted.status).toBe(202);
    const path = String(accepted.headers['location']);
    const told = await follow(path);
    expect(told.at(-1)!.view.state).toBe('done');
    expect(told.some(({ view }) => view.state === 'running' && view.planned > 5)).toBe(true);
    const { body } = await ask(`${path}/result`);
    expect((JSON.parse(body) as { advice: { met: boolean } }).advice.met).toBe(false);
    const line = await runCli(['window', '-', '--advice', '--format', 'json'], {
      input: JSON.stringify(asked),
    });
    expect(line.status).toBe(0);
    expect(body === line.stdout).toBe(true);
  });
});

describe('a diagnosis', () => {
  /** An invented capture: the selected core has six tenths of the flux. */
  const weak = simulate(checkDesign({ ...design, exceptions: [{ row: 3, column: 5, fluxFactor: 0.6 }] }));
  const rows = Array.from(
    weak.time,
    (t, i) => `${(t * 1e9).toFixed(3)},${(weak.senseVoltage[i] * 1e3).toFixed(2)}`,
  );
  const csv = ['time_ns,u_mV', ...rows].join('\n');

  it('names the planted fault first, the same through HTTP and on the command line', async () => {
    const accepted = await post('/api/v1/diagnoses', { design, captures: [{ text: csv, label: '-' }] });
    expect(accepted.status).toBe(202);
    const path = String(accepted.headers['location']);
    expect((await follow(path)).at(-1)!.view.state).toBe('done');
    const http = (await ask(`${path}/result`)).body;
    const { explanations, verdict } = JSON.parse(http) as {
      explanations: { code: string }[];
      verdict: string;
    };
    expect([verdict, explanations[0].code]).toEqual(['fault', 'weak-core']);
    const line = await runCli(['diagnose', DEMO, '-', '--format', 'json'], { input: csv });
    expect(line.stdout === http).toBe(true);
  });
});
