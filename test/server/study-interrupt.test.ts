import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli } from './run-cli.ts';
import { toleranceFiles } from './tolerance-files.ts';

const files = toleranceFiles();

describe('a study stopped from the keyboard', () => {
  it('writes what is done, whole and marked partial, leaves nothing else behind and exits with 130', async () => {
    const ended = await runCli(files.study('stopped.json', ['--option', 'draws=100000']), {
      started: (child) => {
        const watch = (chunk: Buffer): void => {
          if (!/^[1-9]\d* of 100000 points/mu.test(chunk.toString())) return;
          child.stderr!.off('data', watch);
          child.kill('SIGINT');
        };
        child.stderr!.on('data', watch);
      },
    });
    expect(ended.status).toBe(130);
    const result = files.read('stopped.json');
    expect(result.partial).toBe(true);
    expect(result.count.done).toBeGreaterThan(0);
    expect(result.count.done).toBeLessThan(100_000);
    expect(result.count.failed).toBe(0);
    expect(result.results.length).toBe(result.count.done);
    expect(ended.stderr).toContain(
      `Stopped: ${result.count.done} of 100000 points are kept and the study is marked partial.`,
    );
    expect(readdirSync(files.folder)).toEqual(['stopped.json']);
  });

  it('while it is planned writes no file', async () => {
    const large = JSON.stringify({ name: 'slow to plan', mat: { rows: 128, columns: 128 } });
    const words = ['study', 'tolerance', '-', '--workers', '1', '--output', join(files.folder, 'never.json')];
    const ended = await runCli(words, {
      input: large,
      env: { NODE_OPTIONS: `--import ${JSON.stringify(WATCHED)}` },
      started: (child) =>
        child.stderr!.on('data', (chunk: Buffer) => {
          if (chunk.toString().includes('listening for SIGINT')) child.kill('SIGINT');
        }),
    });
    expect(ended.status).toBe(130);
    expect(ended.stderr).toContain('Stopped before the study was planned: nothing is written.');
    expect(readdirSync(files.folder)).not.toContain('never.json');
  });
});

/** Tells, from inside the process, when it has begun to listen for the signal. */
const WATCHED = `data:text/javascript,${encodeURIComponent(
  "process.on('newListener', (name) => { if (name === 'SIGINT') setImmediate(() => process.stderr.write('listening for SIGINT\\n')); });",
)}`;
