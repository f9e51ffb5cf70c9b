import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ensureBuild, ROOT } from './ensure-build.ts';

/**
 * The package as somebody else has it: packed, unpacked into a project of its own beside its dependencies, and used
 * from there.
 */
let project: string;
let files: readonly string[];
beforeAll(async () => {
  await ensureBuild();
  project = mkdtempSync(join(tmpdir(), 'strobewright-project-'));
  const packed = execFileSync('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', project], {
    cwd: ROOT,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const [{ filename, files: list }] = JSON.parse(packed) as [
    { filename: string; files: readonly { readonly path: string }[] },
  ];
  files = list.map(({ path }) => path);
  const place = join(project, 'node_modules/strobewright');
  mkdirSync(place, { recursive: true });
  execFileSync('tar', ['-xzf', join(project, filename), '-C', place, '--strip-components', '1']);
  symlinkSync(join(ROOT, 'node_modules'), join(place, 'node_modules'));
  writeFileSync(join(project, 'package.json'), '{ "type": "module" }\n');
});
afterAll(() => rmSync(project, { recursive: true, force: true }));

const SCRIPT = `import { checkDesign, simulate, wholeWindow } from 'strobewright';
const design = checkDesign({ mat: { rows: 4, columns: 4 } });
const { time, senseVoltage, contributions, error } = simulate(design);
const { strobe, threshold, margin } = wholeWindow(design);
const length: number = senseVoltage.length;
console.log(JSON.stringify([time.length === length, contributions !== undefined, error !== undefined]));
console.log(JSON.stringify([strobe !== null, threshold !== null, Number.isFinite(margin.total)]));
`;

const readJson = <T>(path: string): T => JSON.parse(readFileSync(join(ROOT, path), 'utf8')) as T;

describe('what comes along', () => {
  const { packages } = readJson<{
    packages: Record<string, { hasInstallScript?: boolean; dev?: boolean; version: string }>;
  }>('package-lock.json');

  it('runs no script when it is installed', () => {
    expect(Object.keys(packages).length).toBeGreaterThan(100);
    expect(Object.keys(packages).filter((name) => packages[name].hasInstallScript === true)).toEqual([]);
  });

  it('holds neither a compiler nor a bundler for whoever installs the package', () => {
    const installed = Object.keys(packages).filter((name) => name !== '' && packages[name].dev !== true);
    expect(installed).toContain('node_modules/express');
    const tools = /^node_modules\/(typescript|vite|rolldown|esbuild|rollup|terser|lightningcss|@types\/.*)$/u;
    expect(installed.filter((name) => tools.test(name))).toEqual([]);
  });

  it('is all there for npm start, whatever NODE_ENV says', () => {
    expect(readFileSync(join(ROOT, '.npmrc'), 'utf8')).toMatch(/^include=dev$/mu);
    const names = spawnSync('npm', ['ls', '--depth', '0', '--parseable'], {
      cwd: ROOT,
      encoding: 'utf8',
      env: { ...process.env, NODE_ENV: 'production' },
    });
    expect(names.stdout).toMatch(/node_modules\/typescript$/mu);
    expect(names.stdout).toMatch(/node_modules\/@types\/node$/mu);
  });

  it('is named with its licence beside the built page', () => {
    const notices = readFileSync(join(ROOT, 'dist/web/licences.txt'), 'utf8');
    for (const name of [
      'Strobewright',
      'd3-scale',
      'ml-matrix',
      'fft.js',
      'zod',
      'csv-parse',
      'js-quantities',
    ])
      expect(notices).toMatch(new RegExp(`^${name}( \\d|$)`, 'mu'));
    expect(notices.match(/Permission (is hereby granted|to use)/gu)?.length).toBeGreaterThan(10);
  });
});

describe('the package in another project', () => {
  it('holds the library, the commands, the page and the data, and neither sources nor tests', () => {
    for (const path of ['dist/engine/index.js', 'dist/engine/index.d.ts', 'dist/server/cli.js', 'LICENSE'])
      expect(files).toContain(path);
    expect(files).toContain('fixtures/designs/minimal.json');
    expect(files.filter((path) => /^(engine|server|web|test|data|\.ci)\//.test(path))).toEqual([]);
  });

  it('is a library with types: a strict compiler takes the script, and refuses one with a wrong type', () => {
    const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');
    writeFileSync(join(project, 'script.ts'), SCRIPT);
    writeFileSync(join(project, 'wrong.ts'), SCRIPT.replace('length: number', 'length: string'));
    const options = [
      '--strict',
      '--noEmit',
      '--module',
      'nodenext',
      '--target',
      'es2023',
      '--lib',
      'es2023,dom',
    ];
    const { stdout } = spawnSync(process.execPath, [tsc, ...options, 'script.ts', 'wrong.ts'], {
      cwd: project,
      encoding: 'utf8',
    });
    const errors = stdout.trim().split('\n');
    expect(errors[0]).toMatch(/^wrong\.ts\S*: error TS2322: /u);
    expect(errors.filter((line) => !line.startsWith('wrong.ts'))).toEqual([]);
  });

  it('runs', () => {
    writeFileSync(join(project, 'script.mjs'), SCRIPT.replace(': number', ''));
    const { status, stdout, stderr } = spawnSync(process.execPath, ['script.mjs'], {
      cwd: project,
      encoding: 'utf8',
    });
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toBe('[true,true,true]\n[true,true,true]\n');
  });

  it('has the command line, which finds its own data', () => {
    const cli = join(project, 'node_modules/strobewright/dist/server/cli.js');
    const design = join(project, 'node_modules/strobewright/fixtures/designs/minimal.json');
    const { status, stdout } = spawnSync(process.execPath, [cli, 'check', design], {
      cwd: project,
      encoding: 'utf8',
    });
    expect(status).toBe(0);
    expect(stdout).toContain('ten lines');
  });
});
