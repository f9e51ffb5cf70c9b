import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { windowJson } from '../../engine/export/serialise.ts';
import { wholeWindow } from '../../engine/studies/whole-window.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { askPatiently } from './http-client.ts';
import { runCli } from './run-cli.ts';
import type { ServeProcess } from './serve-process.ts';
import { startServe } from './serve-process.ts';

const FOLDER = join(ROOT, 'fixtures/designs');

let serving: ServeProcess;
beforeAll(async () => {
  await ensureBuild();
  serving = await startServe(['--workers', '1']);
});
afterAll(async () => {
  await serving?.end();
});

const post = (path: string, body: string) =>
  askPatiently(serving.port, path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body });

describe('the same input gives the same bytes', () => {
  it.each([
    ['minimal.json', ['nominal', 'corners']],
    ['single-core-jig.json', ['nominal', 'parts']],
  ] as const)('window %s through library, command line and HTTP', async (name, sets) => {
    const raw = JSON.parse(readFileSync(join(FOLDER, name), 'utf8')) as { requirement?: object };
    const text = JSON.stringify({ ...raw, requirement: { ...raw.requirement, sets } });
    const design = checkDesign(JSON.parse(text));
    const library = windowJson(design, wholeWindow(design));
    const line = await runCli(['window', '-', '--format', 'json'], { input: text });
    const http = await post('/api/v1/windows', text);
    expect(line.stdout === library).toBe(true);
    expect(http.status, http.body.slice(0, 300)).toBe(200);
    expect(http.body === library).toBe(true);
    const { verdict } = JSON.parse(library) as { verdict: { sets: { parts: { draws: number } } } };
    expect(verdict.sets.parts.draws).toBe((sets as readonly string[]).includes('parts') ? 200 : 0);
  });

  it('the report of a demo design from the command line and over HTTP', async () => {
    const design = readFileSync(join(FOLDER, 'minimal.json'), 'utf8');
    const http = await post('/api/v1/reports', design);
    const line = await runCli(['report', join(FOLDER, 'minimal.json')]);
    expect(http.status).toBe(200);
    expect(http.body === line.stdout).toBe(true);
  });
});
