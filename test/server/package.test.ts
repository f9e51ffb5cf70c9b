import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from './ensure-build.ts';
import { packProject, type PackedProject } from './pack-project.ts';

let packed: PackedProject;
beforeAll(async () => {
  packed = await packProject();
});
afterAll(() => packed.remove());

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
      expect(packed.files).toContain(path);
    expect(packed.files).toContain('fixtures/designs/minimal.json');
    expect(packed.files.filter((path) => /^(engine|server|web|test|data|\.ci)\//.test(path))).toEqual([]);
  });

  it('has the command line, which finds its own data', () => {
    const cli = join(packed.folder, 'node_modules/strobewright/dist/server/cli.js');
    const design = join(packed.folder, 'node_modules/strobewright/fixtures/designs/minimal.json');
    const { status, stdout } = spawnSync(process.execPath, [cli, 'check', design], {
      cwd: packed.folder,
      encoding: 'utf8',
    });
    expect(status).toBe(0);
    expect(stdout).toContain('ten lines');
  });
});
