import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli } from './run-cli.ts';
import { toleranceFiles } from './tolerance-files.ts';

const files = toleranceFiles();

describe('shards of one study', () => {
  it('on other processes and with other numbers of workers put together give the bytes of one', async () => {
    const draws = ['--option', 'draws=6', '--seed', '5'];
    expect((await runCli(files.study('whole.json', draws))).status).toBe(0);
    for (const [i, workers] of [
      [1, 1],
      [2, 4],
    ] as const) {
      const words = files.study(`${i}.json`, [...draws, '--shard', `${i}/2`]);
      words[words.indexOf('--workers') + 1] = String(workers);
      expect((await runCli(words)).status).toBe(0);
      expect(files.read(`${i}.json`)).toMatchObject({ partial: true, count: { planned: 6, done: 3 } });
    }
    const shards = [2, 1].map((i) => join(files.folder, `${i}.json`));
    const merged = await runCli(['merge', ...shards, '--format', 'json']);
    expect(merged.status).toBe(0);
    expect(merged.stdout === readFileSync(join(files.folder, 'whole.json'), 'utf8')).toBe(true);
  });
});
