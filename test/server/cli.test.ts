import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { callCli } from './call-cli.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { runCli, type Ended } from './run-cli.ts';

const asking = (...words: string[]): string[] => words.flatMap((word) => ['--require', word]);
const DEMO = join(ROOT, 'fixtures/designs/minimal.json');
const design = JSON.parse(readFileSync(DEMO, 'utf8')) as object;
const JIG = join(ROOT, 'fixtures/cores/jig-core-invented.json');
const CAPTURE = join(ROOT, 'fixtures/captures/demo-one.csv');
let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-cli-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const fileWith = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

describe('study --help KIND', () => {
  it.each([[['study', '--help', 'rate']], [['study', 'rate', '--help']]])(
    '%j lists the options of the kind with range, unit and default',
    async (words) => {
      const { status, stdout } = await callCli(words);
      expect(status).toBe(0);
      expect(stdout).toMatch(
        /^ {2}steps +Periods between the two.*\n +takes a whole number from 2 to 101; left out: 9$/mu,
      );
      expect(stdout).toContain('takes 20 ns to 100 ms, or a rate such as 250 kHz');
      expect(stdout).not.toContain('Kinds of study');
    },
  );

  it('without a kind names the kinds', async () => {
    expect((await callCli(['study', '--help'])).stdout).toMatch(/^ {2}shmoo +Where it works/mu);
  });
});

describe('simulate', () => {
  it('prints a summary with units', async () => {
    const { status, stdout, stderr } = await callCli(['simulate', DEMO]);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(/Read as ONE: at the strobe, [\d.]+ ns after the start of read/);
    expect(stdout).toContain('Half-selected cores, reversible');
    expect(stdout).toMatch(/Estimated error of the sense voltage [\d.]+ .?V/);
  });

  it('gives JSON of the stated shape, one array per quantity, all of one length', async () => {
    const { stdout } = await callCli(['simulate', DEMO, '--format', 'json']);
    const run = JSON.parse(stdout) as Record<string, never>;
    const { length } = run['time'] as readonly number[];
    expect(length).toBeGreaterThan(1000);
    const contributions = run['contributions'] as Record<string, number[]>;
    expect(Object.keys(contributions)).toEqual([
      'directCoupling',
      'halfSelectedReversible',
      'halfSelectedIrreversible',
      'selectedCore',
      'inhibit',
    ]);
    const currents = run['currents'] as Record<string, number[]>;
    const arrays = [
      ...['senseVoltage', 'amplifierOutput', 'detectorOutput', 'selectedFlux'].map(
        (key) => run[key] as number[],
      ),
      ...Object.values(contributions),
      currents['x'],
      currents['y'],
      currents['inhibit'],
    ];
    for (const values of arrays) {
      expect(values).toHaveLength(length);
      expect(values.every((value) => Number.isFinite(value))).toBe(true);
    }
    for (const part of ['source', 'resistive', 'stored', 'cores', 'residual']) {
      expect(run['energy'][part]).toEqual(expect.any(Number));
    }
    expect(run['strobe']).toMatchObject({ bit: 1, time: expect.any(Number), threshold: expect.any(Number) });
    expect((run['error'] as { senseVoltage: number }).senseVoltage).toBeGreaterThan(0);
  });

  it('gives CSV with a unit in each column and a row for each sample', async () => {
    const { stdout } = await callCli(['simulate', DEMO, '--format', 'csv']);
    const lines = stdout.trimEnd().split('\n');
    expect(lines[0]).toMatch(/^# strobewright \d/);
    const header = lines[2].split(',');
    expect(header.slice(0, 3)).toEqual(['time_s', 'senseVoltage_V', 'directCoupling_V']);
    expect(lines.slice(3).every((line) => line.split(',').length === header.length)).toBe(true);
  });
});

describe('window', () => {
  // What is looked at here does not depend on the step, and a window is some five hundred runs.
  const numerics = { output: '5 ns', step: '5 ns' };
  const small = { mat: { rows: 2, columns: 2 }, selected: undefined, tolerances: { drive: 0.06 } };
  const coarse = (): string => fileWith('coarse.json', JSON.stringify({ ...design, ...small, numerics }));

  let met: Ended;
  beforeAll(async () => {
    met = await callCli(['window', coarse(), ...asking('nominal', '1 uV', '1 ns')]);
  });

  it('prints the window, the margins and the causes at the strobe', () => {
    expect(met.status).toBe(0);
    expect(met.stdout).toMatch(/Strobe window [\d.]+ ns to [\d.]+ ns/);
    expect(met.stdout).toContain('worst ZERO');
  });

  it('exits with 0 when what is required is met, with 3 and one sentence when it is not', async () => {
    const corners = await callCli(['window', coarse(), ...asking('design')]);
    const missed = await callCli(['window', coarse(), '--require', '5 V']);
    expect([met.status, met.stderr]).toEqual([0, '']);
    expect(missed.status).toBe(3);
    expect(missed.stderr).toMatch(
      /^Not met: As designed: the margin is .+ mV .+ where 5 V .+\.\nNot met: At the corners: .+\.\n$/,
    );
    expect(corners.status).toBe(3);
    expect(corners.stderr).toMatch(/^Not met: At the corners: the (least ONE|greatest ZERO) .+\.\n$/);
    expect(corners.stdout).toMatch(/^Does not read\. At the corners, which decides: /);
    expect(missed.stdout).toContain('Strobe window');
  });

  it('exits with 3 where the supply cannot give what every run takes for granted, whatever is required', async () => {
    const starved = { ...design, ...small, numerics, supply: { budget: '1 mA' } };
    const path = fileWith('starved.json', JSON.stringify(starved));
    const { status, stderr, stdout } = await callCli(['window', path, ...asking('nominal', '1 uV', '1 ns')]);
    expect(status).toBe(3);
    expect(stderr).toMatch(/^Not met: Limits: average current of the supply: .+ of 1 mA\.\n$/);
    expect(stdout).toContain('average current of the supply');
  });

  it('gives JSON in which no window is an answer with a reason', async () => {
    const design = fileWith(
      'no-window.json',
      JSON.stringify({ mat: { rows: 4, columns: 4 }, detector: { threshold: '5 V' }, numerics }),
    );
    const { status, stdout } = await callCli(['window', design, '--format', 'json']);
    const answer = JSON.parse(stdout) as Record<string, unknown>;
    expect(status).toBe(0);
    expect(answer['strobe']).toBeNull();
    expect(answer['reason']).toMatch(/\w.*\.$/);
  });
});

describe('the other commands', () => {
  it('check says that a design is valid', async () => {
    const { status, stdout } = await callCli(['check', DEMO, '--format', 'json']);
    expect(status).toBe(0);
    const assumption = { field: '/tolerances/supply', value: 0.02, from: 'default', low: 0.01, high: 0.05 };
    expect(JSON.parse(stdout)).toMatchObject({
      valid: true,
      assumptions: expect.arrayContaining([assumption]),
    });
  });

  it('core gives parameters that answer the handbook within one per cent', async () => {
    const cores = readdirSync(join(ROOT, 'fixtures/cores'));
    const { status, stdout } = await callCli([
      'core',
      join(ROOT, 'fixtures/cores', cores[0]),
      '--format',
      'json',
    ]);
    expect(status).toBe(0);
    const { comparisons } = JSON.parse(stdout) as { comparisons: { deviation: number | null }[] };
    const deviations = comparisons.flatMap(({ deviation }) => (deviation === null ? [] : [deviation]));
    expect(deviations.length).toBeGreaterThanOrEqual(3);
    for (const deviation of deviations) expect(Math.abs(deviation)).toBeLessThan(0.01);
  });

  it('schema prints the JSON Schema', async () => {
    const { status, stdout } = await callCli(['schema']);
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ type: 'object', properties: { mat: {} } });
  });

  it.each([['--help'], ['simulate', '--help'], ['study', '--help'], ['serve', '--help']])(
    'help is printed and is no error: %s %s',
    async (...words) => {
      const { status, stdout } = await callCli(words.filter(Boolean));
      expect(status).toBe(0);
      expect(stdout).toContain('Usage: strobewright');
    },
  );
});

describe('what is refused exits with 2 and one sentence on standard error, without our inside', () => {
  const cases: readonly (readonly [string, readonly string[], RegExp])[] = [
    [
      'a file that is not there',
      ['simulate', 'nowhere.json'],
      /^Design nowhere.json cannot be read; there is no such/,
    ],
    ['a folder', ['simulate', 'fixtures'], /^Design fixtures cannot be read; it is a folder/],
    ['a command that is not there', ['simulat', DEMO], /^error: unknown command 'simulat'/],
    [
      'an option that is not there',
      ['simulate', DEMO, '--formt', 'json'],
      /^error: unknown option '--formt'/,
    ],
    ['a format that is not there', ['simulate', DEMO, '--format', 'xml'], /^error: option '--format <form>'/],
    ['no design', ['window'], /^error: missing required argument 'design'/],
    ['one file too many', ['window', DEMO, DEMO], /^error: too many arguments/],
    [
      'a requirement without a unit',
      ['window', DEMO, '--require', '20'],
      /^--require must be design, a set of cases/,
    ],
    [
      'an output that cannot be',
      ['schema', '--output', '/nowhere/x.json'],
      /^Output \/nowhere\/x.json cannot be/,
    ],
    ['a port that is none', ['serve', '--port', '70000'], /^--port must be a whole number from 0 to 65535/],
    [
      'an address that is not here',
      ['serve', '--port', '0', '--host', '192.0.2.1'],
      /^192.0.2.1 is not an address/,
    ],
    [
      'a kind of study that is not there',
      ['study', 'guess', DEMO],
      /^The kind of study must be one of scale,/,
    ],
    ['a shard that is none', ['study', 'scale', DEMO, '--shard', '3/2'], /^Shard must be I\/N/],
    ['a study file that is none', ['merge', DEMO], /must hold the JSON that study --format json writes/],
    [
      'an output that is a folder',
      ['schema', '--output', 'fixtures'],
      /^Output fixtures cannot be written and what was there is unchanged; it is a folder/,
    ],
    [
      'an output without a name',
      ['schema', '--output', ''],
      /^Output "" cannot be written.*its name is empty/,
    ],
    ['a design without a name', ['check', ''], /^Design "" cannot be read; there is no such file/],
    [
      'an address that is empty, which would be all addresses',
      ['serve', '--host', '', '--port', '0'],
      /^--host must be an address of this machine; received ""/,
    ],
    [
      'a spectrum in a form that has none',
      ['simulate', DEMO, '--spectrum'],
      /^--spectrum goes with --format json; received text/,
    ],
    [
      'advice in a form that has none',
      ['window', DEMO, '--advice', '--format', 'csv'],
      /^--advice goes with --format text or json; received csv/,
    ],
    [
      'a bound without its unit',
      ['fit', DEMO, CAPTURE, '--unknown', 'coreFlux', '--bounds', 'coreFlux=2..3 nWb'],
      /^The lower bound of coreFlux must be a quantity in Wb, but is "2", a bare number without a unit/,
    ],
    [
      'bounds with one end and no points',
      ['fit', DEMO, CAPTURE, '--unknown', 'coreFlux', '--bounds', 'coreFlux=2 nWb'],
      /^--bounds must give two ends with two points between them; received "2 nWb"/,
    ],
    [
      'a range of nothing that is there',
      ['fit', DEMO, CAPTURE, '--unknown', 'coreFlux', '--start', 'luck=1'],
      /^--start or --bounds must hold known fields only; received "luck"/,
    ],
    [
      'a capture that was not given',
      ['fit', DEMO, CAPTURE, '--set', '2:/selected/bit=0'],
      /^--set must name a capture from 1 to 1 before the colon; received 2/,
    ],
    [
      'a change that is no pointer',
      ['fit', DEMO, CAPTURE, '--set', 'bit=0'],
      /^--set must name a field of the design by its pointer; received "bit"/,
    ],
    [
      'a probe where there is none',
      ['fit', DEMO, CAPTURE, '--observed', '1:roof'],
      /^--observed of capture 1 must be one of sense, amplifier; received "roof"/,
    ],
    [
      'a core on a jig without its edge',
      ['core', JIG, '--one', CAPTURE],
      /^--edge must say where the drive's rise starts on the own time of capture 1, and is missing/,
    ],
    [
      'an edge of no capture',
      ['core', JIG, '--edge', '0 ns'],
      /^--edge is about captures of the core, and --one names none/,
    ],
    [
      'a handbook that gives what is read off the capture',
      ['core', JIG, '--one', CAPTURE, '--edge', '0 ns'],
      /^peakOne is read off the capture, but is given as well: leave it out/,
    ],
    [
      'a fit of something that is not there',
      ['fit', DEMO, CAPTURE, '--unknown', 'luck'],
      /^--unknown must be one of coreFlux, .*; received "luck": give one of these\./,
    ],
    [
      'a unit of time that is none',
      ['fit', DEMO, CAPTURE, '--read', 'timeUnit=parsec'],
      /^--read timeUnit must be one of s, ms, us, ns, ps; received "parsec": give one of these\./,
    ],
    [
      'an answer to a question that no capture asks',
      ['fit', DEMO, CAPTURE, '--read', 'luck=1'],
      /^--read must hold known fields only; received "luck"/,
    ],
    [
      'an instant without a unit',
      ['diagnose', DEMO, CAPTURE, '--strobe-at', '480'],
      /^--strobe-at must be a time with its unit, but is "480", a bare number/,
    ],
    [
      'a design where handbook values are due',
      ['core', DEMO],
      /^A handbook must hold known fields only, but has "(core|mat)": the fields are /,
    ],
    [
      'a name that would steer the terminal',
      ['check', 'a\u001b[31m\nb\u009b\u202e.json'],
      /^Design a\\u001b\[31m\\nb\\u009b\\u202e\.json cannot be read; [^\n]+\n$/,
    ],
    ['a command that would', ['\u001b[31m'], /^error: unknown command '\\u001b\[31m'/],
  ];
  it.each(cases)('%s', async (_name, words, sentence) => {
    const { status, stdout, stderr } = await callCli(words);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(sentence);
    expect(stderr).not.toMatch(/\n\s+at |node_modules|file:\/\//);
  });

  it('a design that is not JSON is told with line and column', async () => {
    const path = fileWith('comma.json', '{\n  "mat": { "rows": 4, "columns": 4, }\n}\n');
    const { status, stderr } = await callCli(['check', path]);
    expect(status).toBe(2);
    expect(stderr).toContain('line 2, column 37');
  });

  it.each([
    ['{"plan":{"points":[1]},"results":[null]}'],
    ['{"plan":{"kind":"tolerance","options":{},"seed":1,"points":[]},"results":[]}'],
    [
      '{"plan":{"kind":"shmoo","options":{},"seed":1,"points":[{"name":"a","inputs":{}}]},"results":[{"index":0,"name":"a","values":{}}]}',
    ],
  ])('studies that no study wrote: %s', async (text) => {
    const { status, stdout, stderr } = await callCli(['merge', '-'], { input: text });
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(/^Study - must [^\n]+\n$/);
  });

  it('a name in a design cannot steer the terminal', async () => {
    const { status, stdout } = await callCli(['check', '-'], { input: '{"name":"\\u001b[2Jgone\\r\u009b"}' });
    expect(status).toBe(0);
    expect(stdout).toMatch(/^\\u001b\[2Jgone\\u000d\\u009b\n/);
  });

  it('a design that is larger than a design may be', async () => {
    const { status, stderr } = await callCli(['check', '-'], { input: ' '.repeat(1_048_577) });
    expect(status).toBe(2);
    expect(stderr).toContain('may have at most 1048576 bytes');
  });

  // Every design with a mistake is held to its sentence in check-design.test.ts; here one of each code goes through the door.
  const index = JSON.parse(readFileSync(join(ROOT, 'fixtures/designs-bad/index.json'), 'utf8')) as Record<
    string,
    { code: string; message: string }
  >;
  const oneOfEach = Object.entries(index).filter(
    ([, { code }], i, all) => all.findIndex(([, other]) => other.code === code) === i,
  );
  it.each(oneOfEach)('the design with a mistake %s', async (name, { code, message }) => {
    const { status, stdout, stderr } = await callCli(['check', join(ROOT, 'fixtures/designs-bad', name)]);
    expect([status, stdout]).toEqual([2, '']);
    // The text itself is read before it is a design, so the sentence names the file.
    const wanted = code === 'syntax' ? message.slice('The design'.length) : message;
    expect(stderr.endsWith(`${wanted}\n`)).toBe(true);
    expect(stderr.trimEnd().split('\n')).toHaveLength(1);
  });
});

describe('--output', () => {
  it('writes what standard output would get, and nothing else is left in the folder', async () => {
    const place = mkdtempSync(join(folder, 'out-'));
    const path = join(place, 'run.json');
    writeFileSync(path, 'old');
    const { status, stdout } = await callCli(['simulate', DEMO, '--format', 'json', '--output', path]);
    const direct = await callCli(['simulate', DEMO, '--format', 'json']);
    expect([status, stdout]).toEqual([0, '']);
    expect(readFileSync(path, 'utf8') === direct.stdout).toBe(true);
    expect(readdirSync(place)).toEqual(['run.json']);
  });

  it('leaves the old file as it was when the design is refused', async () => {
    const path = fileWith('kept.json', 'old');
    const { status } = await callCli(['simulate', '-', '--output', path], { input: '{' });
    expect(status).toBe(2);
    expect(readFileSync(path, 'utf8')).toBe('old');
  });
});

// What is done within this process above is the same from one of its own.
describe('as a process', () => {
  it('reads a design from standard input and gives the same JSON as from the file', async () => {
    const fromFile = await callCli(['simulate', DEMO, '--format', 'json']);
    const fromInput = await runCli(['simulate', '-', '--format', 'json'], { input: readFileSync(DEMO) });
    expect([fromInput.status, fromInput.stderr]).toEqual([0, '']);
    expect(fromInput.stdout === fromFile.stdout).toBe(true);
  });

  it('refuses a design that is not UTF-8', async () => {
    const { status, stderr } = await runCli(['check', '-'], { input: Buffer.from([0x7b, 0xff, 0x7d]) });
    expect(status).toBe(2);
    expect(stderr).toBe('Design - must be UTF-8 text and is not: save it as UTF-8.\n');
  });

  it('prints help', async () => {
    const { status, stdout } = await runCli(['--help']);
    expect([status, stdout === (await callCli(['--help'])).stdout]).toEqual([0, true]);
  });

  it('finds it no fault when its reader closes the pipe', async () => {
    const { status, stderr } = await runCli(['simulate', DEMO, '--format', 'json'], {
      started: (child) => child.stdout?.once('data', () => child.stdout?.destroy()),
    });
    expect([status, stderr]).toEqual([0, '']);
  });
});
