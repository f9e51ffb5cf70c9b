import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Design } from '../../engine/design/design.ts';
import type { StrobeEnsemble } from '../../engine/strobe/ensemble-result.ts';
import { verdictSentence } from '../../engine/strobe/verdict-words.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import type { Run } from '../../web/model/run.ts';
import { inPackage } from '../../server/package-root.ts';
import { strobeStateAt } from '../../web/model/strobe-state.ts';
import { verdictOf } from '../../web/model/verdict.ts';
import { callCli } from '../server/call-cli.ts';
import { ensureBuild } from '../server/ensure-build.ts';
import { askPort } from '../server/http-client.ts';
import type { ServeProcess } from '../server/serve-process.ts';
import { startServe } from '../server/serve-process.ts';
import { patience, tell } from './figures.ts';
import { lightDesignFile } from './light-design.ts';

/** Class-steps of one run: a window is some hundreds, and each design is asked for it three times. */
const MOST_WORK = 0.8e6;
/** ms of work that this may take; what was left out by then is told. */
const PATIENCE = 25_000;

/** Seeds to try: FIRST-LAST of SOAK_MARGINS, or as many from 1 on as PATIENCE allows; 1-400 is two hundred designs or so. */
const [FIRST, LAST] = (process.env.SOAK_MARGINS ?? '1-400').split('-').map(Number) as [number, number];

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

it(
  'margins of library, command line, HTTP, report and page are the same',
  { timeout: 3_600_000 },
  async () => {
    // As they ship: a test's own build of the engine is slower by a quarter.
    const built = (file: string): Promise<unknown> => import(inPackage('dist', ...file.split('/')));
    const { checkDesign, wholeWindow } = (await built(
      'engine/index.js',
    )) as typeof import('../../engine/index.ts');
    const { windowJson } = (await built(
      'engine/export/serialise.js',
    )) as typeof import('../../engine/export/serialise.ts');
    const { predictCost } = (await built(
      'engine/estimates/cost.js',
    )) as typeof import('../../engine/estimates/cost.ts');
    const { runCommandLine: run } = (await built(
      'server/command-line.js',
    )) as typeof import('../../server/command-line.ts');
    const patient = process.env.SOAK_MARGINS === undefined ? patience(PATIENCE) : () => true;
    const apart: string[] = [];
    const decided: Record<string, number> = {};
    const late: number[] = [];
    let designs = 0;
    for (let seed = FIRST; seed <= LAST && patient(); seed++) {
      const text = JSON.stringify(lightDesignFile(seed));
      const design = checkDesign(JSON.parse(text));
      if (predictCost(design).work > MOST_WORK) continue;
      const path = join(folder, `${seed}.json`);
      writeFileSync(path, text);
      const post = (at: string) =>
        askPort(serving.port, at, {
          method: 'POST',
          headers: { 'Content-Type': 'application/json' },
          body: text,
        });
      // A whole window each: every design goes through every door, in turn as numbers and as words.
      const numbers = seed % 2 === 0;
      const answer = post(numbers ? '/api/v1/reports' : '/api/v1/windows');
      let early: StrobeEnsemble | undefined;
      const found = wholeWindow(design, { told: (ensemble) => void (early = ensemble) });
      const library = windowJson(design, found);
      const sentence = verdictSentence(design, found);
      const line = await callCli(['window', path, ...(numbers ? ['--format', 'json'] : [])], { run });
      const http = await answer;
      // A loaded machine runs into the server's time limit: that is told, and is no other margin.
      if (http.status === 422 && http.body.includes('time-limit')) {
        late.push(seed);
        continue;
      }
      designs++;
      const { design: judged, decides } = found.verdict;
      decided[`${decides} ${judged}`] = (decided[`${decides} ${judged}`] ?? 0) + 1;
      const wrong = [
        ...((numbers ? line.stdout === library : line.stdout.split('\n')[0] === sentence)
          ? []
          : ['command line']),
        ...((numbers ? plain(http.body).includes(sentence) : http.body === library) ? [] : ['HTTP']),
        ...(pageAgrees(design, early, found) ? [] : ['page']),
      ];
      if (wrong.length > 0) apart.push(`${seed} (${wrong.join(', ')})`);
      rmSync(path);
    }
    const sets = Object.entries(decided).map(([name, count]) => `${name} ${count}`);
    tell(
      'Q1',
      'margins of all doors',
      `${designs} designs (${sets.join(', ')}), ${apart.length} apart ${apart.join(' ')}`.trimEnd() +
        (late.length === 0 ? '' : `; ${late.length} not answered in time by the server (${late.join(' ')})`),
      'none of 200',
    );
    expect(designs).toBeGreaterThan(0);
    expect(apart).toEqual([]);
  },
);

/** Has the page, from the runs of the same design, the margins of a window in its cells? */
function pageAgrees(
  design: Design,
  ensemble: StrobeEnsemble | undefined,
  { verdict }: Pick<StrobeWindow, 'verdict'>,
): boolean {
  const { nominal, corners } = verdict.sets;
  if (ensemble === undefined) return Number.isNaN(nominal.margin);
  const { time } = design.strobe;
  // Of a run the state at a strobe takes no more than this.
  const run = { design, ensemble } as Run;
  const { cells } = verdictOf(strobeStateAt(run, time, design.detector.threshold), '');
  const shown = (set: string): number | undefined => cells.find((cell) => cell.set === set)?.margin;
  return shown('nominal') === nominal.margin && shown('corners') === corners?.margin;
}

/** What a report says, without its marks. */
const plain = (html: string): string =>
  html
    .replaceAll(/<[^>]+>/gu, '')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'");
