import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { predictCost } from '../../engine/estimates/cost.ts';
import { windowJson } from '../../engine/export/serialise.ts';
import { verdictSentence } from '../../engine/strobe/verdict-words.ts';
import { wholeWindow } from '../../engine/studies/whole-window.ts';
import { ensureBuild } from '../server/ensure-build.ts';
import { askPort } from '../server/http-client.ts';
import { runCli } from '../server/run-cli.ts';
import type { ServeProcess } from '../server/serve-process.ts';
import { startServe } from '../server/serve-process.ts';
import { randomDesignFile } from '../random-design.ts';
import { patience, tell } from './figures.ts';

const DESIGNS = 200;
/** Class-steps of one run: a window is some hundreds, and each design is asked for it four times. */
const MOST_WORK = 2e6;
/** ms of work that this may take; what was left out by then is told. */
const PATIENCE = 25_000;

let serving: ServeProcess;
let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-margins-'));
  serving = await startServe(['--workers', '2', '--rate', '1000000']);
});
afterAll(async () => {
  await serving?.end();
  rmSync(folder, { recursive: true, force: true });
});

it('margins of library, command line, HTTP and report are the same', { timeout: 1_800_000 }, async () => {
  const patient = patience(PATIENCE);
  const apart: number[] = [];
  let designs = 0;
  for (let seed = 1; designs < DESIGNS && patient(); seed++) {
    const text = JSON.stringify(randomDesignFile(seed, { largest: 2, history: false }));
    const design = checkDesign(JSON.parse(text));
    if (predictCost(design).work > MOST_WORK) continue;
    const path = join(folder, `${seed}.json`);
    writeFileSync(path, text);
    const found = wholeWindow(design);
    const library = windowJson(design, found);
    const sentence = verdictSentence(design, found);
    const post = (at: string) =>
      askPort(serving.port, at, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: text,
      });
    const http = await post('/api/v1/windows');
    designs++;
    const [line, words, report] = [
      await runCli(['window', path, '--format', 'json']),
      await runCli(['window', path]),
      await post('/api/v1/reports'),
    ];
    const first = words.stdout.split('\n')[0];
    const same = [line.stdout, http.body].every((each) => each === library);
    if (!same || first !== sentence || !plain(report.body).includes(sentence)) apart.push(seed);
  }
  tell(
    'Q1',
    'margins of all doors',
    `${designs} designs, ${apart.length} apart ${apart.join(' ')}`,
    'none of 200',
  );
  expect(designs).toBeGreaterThan(0);
  expect(apart).toEqual([]);
});

/** What a report says, without its marks. */
const plain = (html: string): string =>
  html
    .replaceAll(/<[^>]+>/gu, '')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'");
