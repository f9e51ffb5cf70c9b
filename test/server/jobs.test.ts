import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { JobView } from '../../server/job.ts';
import { callCli } from './call-cli.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { askPort } from './http-client.ts';
import type { ServeProcess } from './serve-process.ts';
import { startServe } from './serve-process.ts';

const DEMO = join(ROOT, 'fixtures/designs/minimal.json');
const design = JSON.parse(readFileSync(DEMO, 'utf8')) as Record<string, unknown>;

/** In long steps: where only bytes are compared. */
const COARSE = { ...design, numerics: { output: '5 ns', step: '5 ns' } };

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
const put = (path: string, type: string, body: string | Buffer, headers: Record<string, string> = {}) =>
  askPort(serving.port, path, { method: 'PUT', headers: { 'Content-Type': type, ...headers }, body });

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

describe('a study over HTTP', () => {
  it('is accepted, followed to its end, and gives the bytes of the command line', async () => {
    const options = { sizes: [4, 6], windings: ['shared-one-run'] };
    const accepted = await post('/api/v1/studies', { kind: 'scale', design: COARSE, options });
    expect(accepted.status).toBe(202);
    const path = String(accepted.headers['location']);
    const events = await follow(path);
    expect(events.at(-1)).toMatchObject({
      event: 'end',
      view: { state: 'done', hasResult: true, error: null },
    });
    expect(events.slice(0, -1).every(({ event }) => event === 'progress')).toBe(true);
    const { done, planned } = events.at(-1)!.view;
    expect(done).toBe(planned);
    const result = await ask(`${path}/result`);
    const words = 'study scale - --workers 1 --format json --option sizes=[4,6]'.split(' ');
    const line = await callCli([...words, '--option', 'windings=["shared-one-run"]'], {
      input: JSON.stringify(COARSE),
    });
    expect(result.body === line.stdout).toBe(true);
    expect((await ask(path, 'DELETE')).status).toBe(200);
    expect((await ask(path)).status).toBe(404);
  });

  it('tells how far a long point is while it is computed', async () => {
    const march = { ...design, mat: { rows: 16, columns: 16 } };
    const options = { random: 0, marches: false, wholeMat: true };
    const accepted = await post('/api/v1/studies', { kind: 'pattern', design: march, options });
    const events = await follow(String(accepted.headers['location']));
    expect(events.at(-1)!.view).toMatchObject({ state: 'done', share: 1 });
    const shares = events.map(({ view }) => view.share);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    const between = events.filter(
      ({ view }) => view.planned > 0 && view.share * view.planned - view.done > 0.05,
    );
    expect(between.length).toBeGreaterThan(2);
  });

  it.each([
    ['shmoo', { rows: 2, columns: 2, coarse: 2, resolution: 0.2 }],
    ['tolerance', { draws: 3, seed: 9 }],
    ['pattern', { random: 1, marches: false }],
  ])(
    '%s gives over HTTP, from two workers, the bytes of the command line with one',
    async (kind, options) => {
      const board = { ...COARSE, mat: { rows: 4, columns: 4 }, selected: undefined };
      const asked = { kind, design: board, options };
      const path = String((await post('/api/v1/studies', asked)).headers['location']);
      expect((await follow(path)).at(-1)!.view.state).toBe('done');
      const flags = Object.entries(options).flatMap(([name, value]) => [
        '--option',
        `${name}=${JSON.stringify(value)}`,
      ]);
      const line = await callCli(['study', kind, '-', '--workers', '1', '--format', 'json', ...flags], {
        input: JSON.stringify(board),
      });
      expect(line.status).toBe(0);
      expect((await ask(`${path}/result`)).body === line.stdout).toBe(true);
    },
  );

  it('is cancelled by DELETE and keeps what was done, marked partial', async () => {
    const accepted = await post('/api/v1/studies', { kind: 'tolerance', design, options: { draws: 500 } });
    const path = String(accepted.headers['location']);
    for (;;) {
      const view = JSON.parse((await ask(path)).body) as JobView;
      if (view.done >= 1) break;
      expect(view.state).toMatch(/queued|running/);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    expect((await ask(`${path}/result`)).status).toBe(409);
    expect((await ask(path, 'DELETE')).status).toBe(200);
    const last = (await follow(path)).at(-1)!;
    expect(last).toMatchObject({ event: 'end', view: { state: 'cancelled', error: { code: 'cancelled' } } });
    const result = JSON.parse((await ask(`${path}/result`)).body) as {
      partial: boolean;
      count: { done: number };
    };
    expect(result.partial).toBe(true);
    expect(result.count.done).toBeGreaterThanOrEqual(1);
  });

  it('is refused at once for an option of another form, with its pointer', async () => {
    const reply = await post('/api/v1/studies', { kind: 'scale', design, options: { sizes: 'many' } });
    expect(reply.status).toBe(422);
    expect(JSON.parse(reply.body)).toEqual({
      code: 'bad-option',
      field: '/options/sizes',
      message:
        'Study option sizes must be a list of 1 to 40 entries, but is "many"; write them in square brackets.',
      limit: null,
    });
  });

  it('ends by name when the design refuses its options', async () => {
    const options = { strobe: 'fixed', threshold: 'best' };
    const accepted = await post('/api/v1/studies', { kind: 'scale', design, options });
    const last = (await follow(String(accepted.headers['location']))).at(-1)!;
    expect(last.view).toMatchObject({ state: 'failed', error: { field: '/options/threshold' } });
  });
});

describe('a fit', () => {
  /** An invented capture: a core 5 % stronger than the design's, 350 ns late. */
  const stronger = simulate(
    checkDesign({ ...design, core: { preset: 'ferrite-20-mil', parameters: { remanentFlux: '2.835 nWb' } } }),
  );
  const csv = [
    'time_ns,u_mV',
    ...Array.from(
      stronger.time,
      (t, i) => `${(t * 1e9 + 350).toFixed(3)},${(stronger.senseVoltage[i] * 1e3).toFixed(3)}`,
    ),
  ].join('\n');

  it('finds the planted flux through HTTP from a kept capture, and through the command line', async () => {
    const name = encodeURIComponent('Bench, 3rd of May');
    expect((await put(`/api/v1/captures/${name}`, 'text/csv', csv)).status).toBe(201);
    expect((await ask(`/api/v1/captures/${name}`)).body).toBe(csv);
    const accepted = await post('/api/v1/fits', {
      design,
      captures: [{ saved: 'Bench, 3rd of May' }],
      unknowns: ['coreFlux'],
    });
    expect(accepted.status).toBe(202);
    const path = String(accepted.headers['location']);
    expect((await follow(path)).at(-1)!.view.state).toBe('done');
    const fit = JSON.parse((await ask(`${path}/result`)).body) as {
      unknowns: { value: number }[];
      design: unknown;
    };
    expect(fit.unknowns[0].value).toBeGreaterThan(2.83e-9);
    expect(fit.unknowns[0].value).toBeLessThan(2.84e-9);

    const saved = join(folder, 'fitted.json');
    const line = await callCli(
      ['fit', DEMO, '-', '--unknown', 'coreFlux', '--save', saved, '--format', 'json'],
      {
        input: csv,
      },
    );
    expect(line.status).toBe(0);
    expect((JSON.parse(line.stdout) as typeof fit).unknowns).toEqual(fit.unknowns);
    expect((await callCli(['check', saved])).status).toBe(0);
  });

  it.each([
    ['a capture that leaves something open', { text: 'a,b\n1,2\n2,3\n3,4\n4,5\n' }, '/captures/0/options'],
    ['a capture without samples', { text: 'nothing here' }, undefined],
  ])('%s ends the job by name with a question or a sentence', async (_name, capture, field) => {
    const accepted = await post('/api/v1/fits', { design, captures: [capture], unknowns: ['coreFlux'] });
    const { view } = (await follow(String(accepted.headers['location']))).at(-1)!;
    expect(view.state).toBe('failed');
    expect(view.error?.message).toMatch(/\w/);
    expect(view.error?.code).not.toBe('internal');
    if (field !== undefined) expect(view.error?.field).toBe(field);
  });

  it('of a capture that is not kept is refused at once', async () => {
    const reply = await post('/api/v1/fits', {
      design,
      captures: [{ saved: 'none' }],
      unknowns: ['coreFlux'],
    });
    expect(reply.status).toBe(404);
  });
});

describe('an advice', () => {
  it('of a design that does not hold is refused at once', async () => {
    expect((await post('/api/v1/advices', { mat: { rows: 0 } })).status).toBe(422);
  });
});

describe('a saved design', () => {
  it('keeps its units as typed, gains versions, and is not overwritten unseen', async () => {
    const path = `/api/v1/designs/saved/${encodeURIComponent('../My mat')}`;
    const text = JSON.stringify(design);
    expect((await put(path, 'application/json', text)).status).toBe(201);
    const first = await ask(path);
    expect(first.headers['etag']).toBe('"1"');
    expect(JSON.parse(first.body)).toEqual(design);
    expect((await put(path, 'application/json', text, { 'If-Match': '"1"' })).status).toBe(200);
    expect((await put(path, 'application/json', text, { 'If-Match': '"1"' })).status).toBe(412);
    expect((await put(path, 'application/json', text, { 'If-None-Match': '*' })).status).toBe(412);
    expect((await put(path, 'application/json', '{"mat":1}')).status).toBe(422);
    expect((await ask(`${path}/versions/2`)).status).toBe(200);
    expect((await ask(`${path}/versions/9`)).status).toBe(404);
    const list = JSON.parse((await ask('/api/v1/designs/saved')).body) as { name: string }[];
    expect(list.map(({ name }) => name)).toEqual(['../My mat']);
    expect((await ask(path, 'DELETE')).status).toBe(204);
    expect((await ask(path)).status).toBe(404);
  });
});

describe('the report', () => {
  it('is the same document from the command line and over HTTP', async () => {
    const small = { ...COARSE, mat: { rows: 2, columns: 2 }, selected: undefined };
    const http = await post('/api/v1/reports', small);
    const line = await callCli(['report', '-'], { input: JSON.stringify(small) });
    expect(http.status).toBe(200);
    expect(http.headers['content-type']).toMatch(/^text\/html/);
    expect(http.headers['content-disposition']).toMatch(/^attachment/);
    expect(http.body === line.stdout).toBe(true);
  });
});
