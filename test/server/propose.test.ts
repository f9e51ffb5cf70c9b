import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { needsJsonSchema } from '../../engine/propose/needs.ts';
import { SMALL_NEEDS } from '../engine/propose/small-needs.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { runCli } from './run-cli.ts';

let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-propose-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('propose on the command line', () => {
  it('stopped with Ctrl-C tells the best until then, marked as stopped, and exits with 130', async () => {
    const words = ['propose', '-', '--workers', '2', '--format', 'json', '--output', join(folder, 'a.json')];
    const ended = await runCli([...words, '--save', join(folder, 'designs')], {
      input: JSON.stringify(SMALL_NEEDS),
      started: (child) => {
        const watch = (chunk: Buffer): void => {
          if (!chunk.toString().includes('nearest')) return;
          child.stderr!.off('data', watch);
          child.kill('SIGINT');
        };
        child.stderr!.on('data', watch);
      },
    });
    expect(ended.status).toBe(130);
    expect(ended.stderr).toMatch(
      /About \d+\.\d % of the search, about \d+ s left; nearest, not shown yet: /u,
    );
    expect(ended.stderr).toContain('Stopped: ');
    const answer = JSON.parse(readFileSync(join(folder, 'a.json'), 'utf8')) as Record<string, unknown>;
    expect(answer).toMatchObject({ met: false, complete: false, proposals: [] });
    expect(answer['sentence']).toMatch(/^Not shown yet\. .*The search was stopped before its end\.$/u);
    // What was only promised is told as nearest, as number 0.
    const saved = readdirSync(join(folder, 'designs'));
    expect(saved.length).toBe(1);
    expect(saved[0]).toMatch(/^0-shared-.*-2x2\.json$/u);
    const design = JSON.parse(readFileSync(join(folder, 'designs', saved[0]!), 'utf8')) as unknown;
    expect(answer['nearest']).toMatchObject({ design });
  });

  it('refuses needs that make no sense in one sentence, and exits with 2', async () => {
    const refused = await runCli(['propose', '-'], {
      input: JSON.stringify({ ...SMALL_NEEDS, keep: { drive: { x: { ris: '40 ns' } } } }),
    });
    expect(refused).toEqual({
      status: 2,
      stdout: '',
      stderr: 'keep: "ris" is not a field of drive.x; did you mean "rise"?\n',
    });
    const workers = await runCli([
      'propose',
      join(ROOT, 'fixtures/needs/small-store-64x4.json'),
      '--workers',
      '0',
    ]);
    expect(workers).toMatchObject({ status: 2, stdout: '' });
    expect(workers.stderr).toContain('--workers must be a whole number from 1 to 64');
  });

  it('has the JSON Schema of its file', async () => {
    const { stdout } = await runCli(['schema', 'needs']);
    expect(JSON.parse(stdout)).toEqual(JSON.parse(JSON.stringify(needsJsonSchema())));
  });
});
