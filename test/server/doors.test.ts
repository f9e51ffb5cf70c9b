import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulationJson } from '../../engine/export/serialise.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { callCli } from './call-cli.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { askPort } from './http-client.ts';
import type { ServeProcess } from './serve-process.ts';
import { startServe } from './serve-process.ts';

const FOLDER = join(ROOT, 'fixtures/designs');
const DESIGNS = readdirSync(FOLDER).filter((name) => name.endsWith('.json'));
/** The largest takes its turn in test/soak/doors.soak.ts. */
const SMALL = DESIGNS.filter((name) => !name.includes('64x64'));

let serving: ServeProcess;
beforeAll(async () => {
  await ensureBuild();
  serving = await startServe(['--workers', '2']);
});
afterAll(async () => {
  await serving?.end();
});

const post = (path: string, body: string) =>
  askPort(serving.port, path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body });

describe('the same input gives the same bytes', () => {
  it.each(SMALL)('simulate %s through library, command line and HTTP', async (name) => {
    const text = readFileSync(join(FOLDER, name), 'utf8');
    const library = simulationJson(simulate(checkDesign(JSON.parse(text))));
    const line = await callCli(['simulate', join(FOLDER, name), '--format', 'json']);
    const http = await post('/api/v1/simulations', text);
    expect(http.status).toBe(200);
    expect(http.headers['content-type']).toMatch(/^application\/json/);
    expect(line.stdout === library).toBe(true);
    expect(http.body === library).toBe(true);
  });

  // The demo designs as they are take their turn in doors.long.test.ts.
  it('window of a mat in long steps through command line and HTTP', async () => {
    const text = JSON.stringify({ mat: { rows: 2, columns: 2 }, numerics: { output: '5 ns', step: '5 ns' } });
    const line = await callCli(['window', '-', '--format', 'json'], { input: text });
    const http = await post('/api/v1/windows', text);
    expect(line.status).toBe(0);
    expect(http.body === line.stdout).toBe(true);
  });

  it('CSV too', async () => {
    const path = join(FOLDER, 'minimal.json');
    const line = await callCli(['simulate', path, '--format', 'csv']);
    const http = await post('/api/v1/simulations?format=csv', readFileSync(path, 'utf8'));
    expect(http.headers['content-type']).toMatch(/^text\/csv/);
    expect(http.body === line.stdout).toBe(true);
  });

  it('twenty times over', async () => {
    const text = readFileSync(join(FOLDER, 'minimal.json'), 'utf8');
    const replies = await Promise.all(Array.from({ length: 20 }, () => post('/api/v1/simulations', text)));
    expect(new Set(replies.map(({ body }) => body)).size).toBe(1);
    expect(replies[0].status).toBe(200);
  });
});

describe('what the interface gives', () => {
  it('the version of results is that of the package', async () => {
    const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string };
    const reply = await askPort(serving.port, '/healthz');
    expect(JSON.parse(reply.body)).toEqual({ status: 'ok', version });
  });

  it('contributions and the error estimate can be left out', async () => {
    const reply = await post('/api/v1/simulations?contributions=false&estimateError=false', '{}');
    const run = JSON.parse(reply.body) as Record<string, unknown>;
    expect([run['contributions'], run['error']]).toEqual([null, null]);
  });

  it('the demo designs as the files that they are', async () => {
    const list = JSON.parse((await askPort(serving.port, '/api/v1/designs/demo')).body) as { id: string }[];
    expect(list.map(({ id }) => `${id}.json`)).toEqual(DESIGNS);
    const one = await askPort(serving.port, `/api/v1/designs/demo/${list[0].id}`);
    expect(JSON.parse(one.body)).toEqual(JSON.parse(readFileSync(join(FOLDER, DESIGNS[0]), 'utf8')));
  });

  it('the schema that the command line prints', async () => {
    const reply = await askPort(serving.port, '/api/v1/schema');
    expect(reply.body).toBe((await callCli(['schema'])).stdout);
  });

  it('an OpenAPI document whose every reference leads somewhere', async () => {
    const document = JSON.parse((await askPort(serving.port, '/api/v1/openapi.json')).body) as {
      paths: object;
      components: { schemas: Record<string, unknown> };
    };
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)];
    expect(references.length).toBeGreaterThan(10);
    for (const [, name] of references) expect(document.components.schemas).toHaveProperty([name]);
    expect(Object.keys(document.paths)).toContain('/api/v1/simulations');
    expect(document.components.schemas).toMatchObject({
      'StudyOptions.rate': { properties: { from: { 'x-unit': 's', 'x-or-rate': true } } },
    });
  });

  it('cores: presets, handbook files, and parameters from handbook values', async () => {
    const reply = await askPort(serving.port, '/api/v1/cores');
    const { presets, handbook } = JSON.parse(reply.body) as {
      presets: unknown[];
      handbook: { values: unknown }[];
    };
    expect(presets.length).toBeGreaterThan(0);
    const answer = await post('/api/v1/cores', JSON.stringify(handbook[0].values));
    expect(answer.status).toBe(200);
    expect(JSON.parse(answer.body)).toMatchObject({ parameters: { squareness: expect.any(Number) } });
  });

  it('the page that documents it, without anything from elsewhere', async () => {
    const page = await askPort(serving.port, '/api/docs/');
    expect(page.status).toBe(200);
    expect(page.body).not.toMatch(/https?:\/\//);
    const files = [...page.body.matchAll(/(?:src|href)="([^:"]+)"/g)].map(([, file]) => file);
    expect(files.length).toBeGreaterThanOrEqual(2);
    for (const file of files) {
      const { pathname } = new URL(file, 'http://localhost/api/docs/');
      expect((await askPort(serving.port, pathname)).status).toBe(200);
    }
    expect((await askPort(serving.port, '/api/docs')).headers['location']).toBe('/api/docs/');
  });
});
