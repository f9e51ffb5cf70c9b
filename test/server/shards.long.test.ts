import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StudyResult } from '../../engine/studies/shared/shape.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { runCli } from './run-cli.ts';

const DEMO = join(ROOT, 'fixtures/designs/classroom-board-4x4.json');

let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-shards-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const study = (file: string, more: readonly string[] = []): string[] => [
  'study',
  'tolerance',
  DEMO,
  '--workers',
  '2',
  '--format',
  'json',
  '--output',
  join(folder, file),
  ...more,
];
const read = (file: string): StudyResult =>
  JSON.parse(readFileSync(join(folder, file), 'utf8')) as StudyResult;

describe('shards of one study', () => {
  it('on other processes and with other numbers of workers put together give the bytes of one', async () => {
    const draws = ['--option', 'draws=6', '--seed', '5'];
    expect((await runCli(study('whole.json', draws))).status).toBe(0);
    for (const [i, workers] of [
      [1, 1],
      [2, 4],
    ] as const) {
      const words = study(`${i}.json`, [...draws, '--shard', `${i}/2`]);
      words[words.indexOf('--workers') + 1] = String(workers);
      expect((await runCli(words)).status).toBe(0);
      expect(read(`${i}.json`)).toMatchObject({ partial: true, count: { planned: 6, done: 3 } });
    }
    const files = [2, 1].map((i) => join(folder, `${i}.json`));
    const merged = await runCli(['merge', ...files, '--format', 'json']);
    expect(merged.status).toBe(0);
    expect(merged.stdout === readFileSync(join(folder, 'whole.json'), 'utf8')).toBe(true);
  });
});
