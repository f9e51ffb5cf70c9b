import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulationJson } from '../../engine/export/serialise.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runTask } from '../../server/commands/run-task.ts';
import { LIMITS } from '../../server/limits.ts';
import { priceLongRun } from '../../server/price.ts';
import { perform } from '../../server/perform.ts';
import { ensureBuild } from './ensure-build.ts';
import { runCli } from './run-cli.ts';

let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-long-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const cycles = (count: number, size: number) => ({
  mat: { rows: size, columns: size },
  programme: Array.from({ length: count }, (_, i) => ({ row: (i * 7) % size, column: (i * 5) % size })),
});

describe('a long run on the command line', () => {
  it('tells how far it is, and Ctrl-C ends it with 130 and nothing written', async () => {
    const output = join(folder, 'never.txt');
    writeFileSync(output, 'old');
    let killed = false;
    const ended = await runCli(['simulate', '-', '--output', output], {
      input: JSON.stringify(cycles(256, 128)),
      started: (child) =>
        child.stderr!.on('data', (chunk: Buffer) => {
          if (killed || !/^About \d+\.\d % of the run/mu.test(chunk.toString())) return;
          killed = child.kill('SIGINT');
        }),
    });
    expect([ended.status, ended.stdout]).toEqual([130, '']);
    expect(ended.stderr).toMatch(/\nStopped before the run was done: nothing is written\.\n$/u);
    expect(readdirSync(folder)).toEqual(['never.txt']);
  });

  it('has a price: above it the run is refused before it begins', () => {
    const design = checkDesign(cycles(20, 64));
    expect(() => priceLongRun(design, { ...LIMITS, jobWork: 1000 })).toThrow(
      'The work must be at most 1000 class-steps',
    );
    expect(() => priceLongRun(design, LIMITS)).not.toThrow();
  });

  it('on a thread gives the bytes of a short one', async () => {
    const design = checkDesign(cycles(12, 32));
    const task = {
      kind: 'simulate',
      design,
      format: 'json',
      contributions: true,
      estimateError: true,
    } as const;
    const answer = await runTask(task, design, { errors: process.stderr });
    expect(new TextDecoder().decode(answer as Uint8Array) === simulationJson(simulate(design))).toBe(true);
  });

  it('tells shares that grow and stay below the whole', () => {
    const shares: number[] = [];
    const design = checkDesign(cycles(8, 8));
    const task = {
      kind: 'simulate',
      design,
      format: 'text',
      contributions: true,
      estimateError: true,
    } as const;
    perform(
      task,
      () => false,
      (share) => shares.push(share),
    );
    expect(shares.length).toBeGreaterThan(5);
    expect(shares.every((share, i) => i === 0 || share >= shares[i - 1])).toBe(true);
    expect(shares.at(-1)).toBeGreaterThan(0.5);
    expect(shares.at(-1)).toBeLessThan(1);
  });
});
