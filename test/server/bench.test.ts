import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Comparison } from '../../engine/fitting/comparison.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { JIG_CORE } from '../demo-captures.ts';
import type { JobView } from '../../server/job.ts';
import { callCli } from './call-cli.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { askPort } from './http-client.ts';
import { startServe, type ServeProcess } from './serve-process.ts';

const DESIGN = join(ROOT, 'fixtures/designs/minimal.json');
const design = JSON.parse(readFileSync(DESIGN, 'utf8')) as Record<string, unknown>;
const captureText = (name: string): string => readFileSync(join(ROOT, 'fixtures/captures', name), 'utf8');

let serving: ServeProcess;
let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-bench-'));
  serving = await startServe(['--workers', '1', '--data', folder]);
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

/** Follows a job to its end; `onView` may act on the way. */
function follow(path: string, onView: (view: JobView) => void = () => {}): Promise<JobView[]> {
  return new Promise((resolve, reject) => {
    httpRequest({ host: '127.0.0.1', port: serving.port, path: `${path}/events` }, (response) => {
      const views: JobView[] = [];
      let rest = '';
      response.on('data', (chunk: Buffer) => {
        const blocks = (rest + chunk.toString()).split('\n\n');
        rest = blocks.pop()!;
        for (const block of blocks) {
          const data = /^data: (.*)$/mu.exec(block)?.[1];
          if (data === undefined) continue;
          views.push(JSON.parse(data) as JobView);
          onView(views.at(-1)!);
        }
      });
      response.on('end', () => resolve(views));
    })
      .on('error', reject)
      .end();
  });
}

/** What an instrument would have recorded of a design, late by `late` s. */
function recorded(file: Record<string, unknown>, late: number): string {
  const { time, senseVoltage } = simulate(checkDesign(file), { contributions: false, estimateError: false });
  const rows = Array.from(
    time,
    (t, i) => `${((t + late) * 1e9).toFixed(3)},${(senseVoltage[i]! * 1e3).toFixed(3)}`,
  );
  return ['time_ns,u_mV', ...rows].join('\n');
}
const strong = { ...design, core: { preset: 'ferrite-20-mil', parameters: { remanentFlux: '2.835 nWb' } } };
const selected = { row: 3, column: 5 };

describe('a capture, before anything is made of it,', () => {
  it('is asked about where it holds several traces, and judged: a current is refused', async () => {
    const path = join(ROOT, 'fixtures/captures/current-trace.csv');
    for (const command of ['fit', 'diagnose']) {
      const asked = await callCli([command, DESIGN, path]);
      expect(asked.status).toBe(2);
      expect(asked.stderr).toContain(
        'give trace as one of 1 "sense" in V, 2 "X" in A (on the command line --trace)',
      );
    }
    const current = await callCli(['fit', DESIGN, path, '--trace', '2']);
    expect(current.stderr).toContain('Not usable as it is: it is a current, not a voltage.');
  });
});

describe('a fit from captures under different conditions', () => {
  const at = (bit: 0 | 1, write: string) => ({
    ...strong,
    selected: { ...selected, bit },
    programme: [{ ...selected, write }],
  });
  const conditions = [
    { '/selected': { ...selected, bit: 1 }, '/programme': [{ ...selected, write: 'one' }] },
    { '/selected': { ...selected, bit: 0 }, '/programme': [{ ...selected, write: 'zero' }] },
  ];

  it('takes a ONE and an inhibited ZERO at once, the same over HTTP and on the command line, within its bounds', async () => {
    const texts = [recorded(at(1, 'one'), 350e-9), recorded(at(0, 'zero'), -80e-9)];
    const files = texts.map((text, i) => {
      const path = join(folder, `capture-${i}.csv`);
      writeFileSync(path, text);
      return path;
    });
    const accepted = await post('/api/v1/fits', {
      design,
      captures: texts.map((text, i) => ({
        text,
        label: files[i],
        changes: Object.entries(conditions[i]!).map(([path, value]) => ({ path, value })),
      })),
      unknowns: ['coreFlux'],
      ranges: { coreFlux: { start: '2.6 nWb', low: '2 nWb', high: '3 nWb' } },
    });
    expect(accepted.status).toBe(202);
    const path = String(accepted.headers['location']);
    expect((await follow(path)).at(-1)!).toMatchObject({ state: 'done', share: 1 });
    const fit = JSON.parse((await ask(`${path}/result`)).body) as FitResult;
    expect(fit.captures).toHaveLength(2);
    expect(Math.abs(fit.unknowns[0]!.value / 2.835e-9 - 1)).toBeLessThan(0.001);
    expect(fit.unknowns[0]).toMatchObject({ start: 2.6e-9, bounds: { low: 2e-9, high: 3e-9 } });

    const set = conditions.flatMap((changes, i) =>
      Object.entries(changes).flatMap(([pointer, value]) => [
        '--set',
        `${i + 1}:${pointer}=${JSON.stringify(value)}`,
      ]),
    );
    const words = ['--start', 'coreFlux=2.6 nWb', '--bounds', 'coreFlux=2 nWb..3 nWb'];
    const line = await callCli([
      'fit',
      DESIGN,
      ...files,
      '--unknown',
      'coreFlux',
      ...words,
      ...set,
      '--format',
      'json',
    ]);
    // A slow machine is told how far the fit is, and nothing else.
    expect(line.stderr.replace(/^\d+ of 40 iterations at most, \d+ runs of the model\n/gmu, '')).toBe('');
    expect((JSON.parse(line.stdout) as FitResult).unknowns).toEqual(fit.unknowns);
  });

  it('without unknowns only lines up and compares', async () => {
    const input = recorded({ ...design, exceptions: [{ ...selected, fluxFactor: 1.1 }] }, 350e-9);
    const { status, stdout } = await callCli(['fit', DESIGN, '-', '--format', 'json'], { input });
    expect(status).toBe(0);
    const { captures } = JSON.parse(stdout) as {
      captures: { lineUp: { delay: number }; comparison: Comparison }[];
    };
    expect(Math.abs(captures[0]!.lineUp.delay - 350e-9)).toBeLessThan(1e-9);
    expect(captures[0]!.comparison.misfitLooksLike[0]!.cause).toBe('selectedCore');
    const text = await callCli(['fit', DESIGN, '-'], { input });
    expect(text.stdout).toMatch(/What is left looks most like the selected core itself: .* % more of it/u);
  });

  it('is refused with the field whose bound makes no design', async () => {
    const accepted = await post('/api/v1/fits', {
      design,
      captures: [{ text: recorded(design, 0) }],
      unknowns: ['coreSquareness'],
      ranges: { coreSquareness: { high: 1.5 } },
    });
    const last = (await follow(String(accepted.headers['location']))).at(-1)!;
    expect(last).toMatchObject({ state: 'failed', error: { field: '/ranges/coreSquareness/high' } });
  });
});

describe('a long job on captures', () => {
  it('tells how many faults are done of how many, and a cancel ends it with nothing kept', async () => {
    const big = JSON.parse(
      readFileSync(join(ROOT, 'fixtures/designs/tide-recorder-first-try-32x32.json'), 'utf8'),
    ) as Record<string, unknown>;
    const accepted = await post('/api/v1/diagnoses', {
      design: big,
      captures: [{ text: recorded({ ...big, terminations: { a: '90 ohm', b: '300 ohm' } }, 0) }],
    });
    const path = String(accepted.headers['location']);
    let asked = false;
    const views = await follow(path, (view) => {
      if (asked || view.done < 2) return;
      asked = true;
      void ask(path, 'DELETE');
    });
    const told = views.filter(({ planned }) => planned > 0);
    expect(told[0]!.planned).toBeGreaterThan(15);
    expect(told.map(({ done }) => done)).toEqual(told.map(({ done }) => done).toSorted((a, b) => a - b));
    expect(views.at(-1)!).toMatchObject({
      state: 'cancelled',
      hasResult: false,
      error: { code: 'cancelled' },
    });
    expect((await ask(`${path}/result`)).status).toBe(409);
  });

  it('a fit tells its iterations', async () => {
    const accepted = await post('/api/v1/fits', {
      design,
      captures: [{ text: recorded(strong, 0) }],
      unknowns: ['coreFlux', 'coreRate', 'coreElastic', 'mutual'],
      maxIterations: 23,
    });
    const views = await follow(String(accepted.headers['location']));
    expect(views.some(({ planned, done }) => planned === 23 && done > 0 && done < 23)).toBe(true);
    expect(views.at(-1)!).toMatchObject({ state: 'done', share: 1, hasResult: true });
  });
});

describe('a core on a jig', () => {
  const values = {
    name: 'jig 3',
    fullDrive: '740 mA',
    rise: '50 ns',
    outsideDiameter: '20 mil',
    insideDiameter: '12 mil',
    height: '5 mil',
  };
  const jigFile = (): string => {
    const path = join(folder, 'jig.json');
    writeFileSync(path, JSON.stringify(values));
    return path;
  };

  it('is read off its captures, the same over HTTP and on the command line, and goes into a list of its own', async () => {
    const reply = await post('/api/v1/cores', {
      ...values,
      captures: {
        one: { text: captureText('demo-jig-one.csv'), start: '25 ns' },
        disturbedZero: { text: captureText('demo-jig-zero.csv'), start: '25 ns' },
      },
    });
    expect(reply.status).toBe(200);
    const answer = JSON.parse(reply.body) as {
      measured: Record<
        'peakOne' | 'peakTime' | 'switchTime' | 'disturbedZero',
        { value: number; error: number }
      >;
      entry: unknown;
    };
    for (const field of ['peakOne', 'peakTime', 'switchTime', 'disturbedZero'] as const) {
      const { value, error } = answer.measured[field];
      // Four standard errors: one in 16,000 by chance, and the seed is fixed.
      expect(Math.abs(value - JIG_CORE[field]!), field).toBeLessThan(4 * error);
    }

    const [list, entry] = [join(folder, 'cores.json'), join(folder, 'core.json')];
    const words = ['core', jigFile(), '--edge', '25 ns', '--keep', list, '--save', entry];
    const captures = ['one', 'zero'].flatMap((name) => [
      `--${name}`,
      join(ROOT, `fixtures/captures/demo-jig-${name}.csv`),
    ]);
    const line = await callCli([...words, ...captures, '--format', 'json']);
    expect([line.status, line.stderr]).toEqual([0, '']);
    expect(line.stdout).toBe(reply.body);
    const kept = JSON.parse(readFileSync(list, 'utf8')) as { cores: { name: string; handbook: unknown }[] };
    expect(kept.cores).toEqual([{ name: 'jig 3', handbook: answer.entry }]);
    // The entry by itself is a handbook that gives the same core.
    const again = await callCli(['core', entry, '--format', 'json']);
    expect(JSON.parse(again.stdout)).toMatchObject({
      parameters: (JSON.parse(reply.body) as { parameters: unknown }).parameters,
    });
  });

  it('has full drive, rise and edge read off the current that stands beside it', async () => {
    const rows = captureText('demo-jig-one.csv').trim().split('\n');
    const header = rows.findIndex((row) => /^-?[\d.]+[,;\t]/u.test(row));
    const withCurrent = rows.slice(header).map((row) => {
      const t = Number(row.split(';')[0]);
      const milliamps = 740 * Math.min(1, Math.max(0, (t - 25) / 50));
      return `${row};${milliamps}`;
    });
    const path = join(folder, 'one-and-current.csv');
    writeFileSync(path, ['time (ns);sense (mV);drive (mA)', ...withCurrent].join('\n'));
    const { fullDrive: _, rise: __, ...rest } = values;
    const known = join(folder, 'size.json');
    writeFileSync(known, JSON.stringify(rest));
    const line = await callCli(['core', known, '--one', path, '--current', '2', '--format', 'json']);
    expect([line.status, line.stderr]).toEqual([0, '']);
    const { measured, handbook } = JSON.parse(line.stdout) as {
      measured: { peakTime: { value: number; error: number } };
      handbook: { fullDrive: number; rise: number };
    };
    expect(handbook.fullDrive).toBeCloseTo(0.74, 3);
    expect(Math.abs(handbook.rise - 50e-9)).toBeLessThan(2e-9);
    expect(Math.abs(measured.peakTime.value - JIG_CORE.peakTime)).toBeLessThan(3e-9);
    const twice = await callCli(['core', jigFile(), '--one', path, '--current', '2']);
    expect([twice.status, twice.stderr]).toEqual([
      2,
      'fullDrive is read off the captured current, but is given as well: leave it out, or leave out the current.\n',
    ]);
  });

  it('is fitted to captures with their currents, the same over HTTP and on the command line, and goes into a design', async () => {
    const measured = join(ROOT, 'fixtures/cores/measured-1.3-mm/drive-and-sense.csv');
    const capture = { name: 'drive and sense', bit: 1, scaleDoubt: 0.03 };
    const asked = {
      core: { preset: 'measured-1.3-mm' },
      unknowns: ['remanentFlux', 'switchingResistance', 'ringSpread'],
    };
    const reply = await post('/api/v1/cores', {
      ...asked,
      captures: [{ ...capture, text: readFileSync(measured, 'utf8') }],
    });
    expect(reply.status).toBe(200);
    const [file, saved] = [join(folder, 'captures.json'), join(folder, 'fitted.json')];
    writeFileSync(file, JSON.stringify({ ...asked, captures: [{ ...capture, file: measured }] }));
    const line = await callCli(['core', file, '--format', 'json', '--save', saved]);
    expect([line.status, line.stderr]).toEqual([0, '']);
    expect(line.stdout).toBe(reply.body);
    const { core, rms } = JSON.parse(reply.body) as { core: { parameters: object }; rms: number };
    expect(rms).toBeLessThan(6e-3);
    const taken = checkDesign({ core: JSON.parse(readFileSync(saved, 'utf8')) as object }).core;
    expect(taken.parameters).toEqual(core.parameters);
    expect((await callCli(['core', file])).stdout).toContain('not shown by the captures');
    const wrong = await post('/api/v1/cores', { captures: [{ text: 'x', bit: 2 }] });
    expect(wrong.status).toBe(422);
    expect(wrong.body).toContain('must be 0 or 1');
  });

  it.each([
    ['an edge without a unit', { start: '25' }, '/captures/one/start'],
    ['no text and no name', { start: '25 ns', text: undefined }, '/captures/one'],
    ['an edge after the bell', { start: '300 ns' }, null],
  ])('%s is refused', async (_name, change, field) => {
    const one = { text: captureText('demo-jig-one.csv'), ...change };
    const reply = await post('/api/v1/cores', { ...values, captures: { one } });
    expect(reply.status).toBe(422);
    expect((JSON.parse(reply.body) as { field: unknown }).field).toBe(field);
  });

  it('a list that is none is left as it was', async () => {
    const list = join(folder, 'notes.json');
    writeFileSync(list, '{"a":1}');
    const handbook = join(ROOT, 'fixtures/cores/jig-core-invented.json');
    const { status, stderr } = await callCli(['core', handbook, '--keep', list]);
    expect(status).toBe(2);
    expect(stderr).toContain('must be a list of cores');
    expect(readFileSync(list, 'utf8')).toBe('{"a":1}');
  });
});
