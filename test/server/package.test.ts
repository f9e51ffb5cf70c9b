import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
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

const SCRIPT = `import { checkDesign, simulate, strobeWindow } from 'strobewright';
const design = checkDesign({ mat: { rows: 4, columns: 4 } });
const { time, senseVoltage, contributions, error } = simulate(design);
const { strobe, threshold, margin } = strobeWindow(design);
const length: number = senseVoltage.length;
console.log(JSON.stringify([time.length === length, contributions !== undefined, error !== undefined]));
console.log(JSON.stringify([strobe !== null, threshold !== null, Number.isFinite(margin.total)]));
`;

describe('the package in another project', () => {
  it('holds the library, the commands, the page and the data, and neither sources nor tests', () => {
    for (const path of ['dist/engine/index.js', 'dist/engine/index.d.ts', 'dist/server/cli.js', 'LICENSE'])
      expect(files).toContain(path);
    expect(files).toContain('fixtures/designs/minimal.json');
    expect(files.filter((path) => /^(engine|server|web|test|data|\.ci)\//.test(path))).toEqual([]);
  });

  it('is a library with types: a strict compiler takes the script, and refuses one with a wrong type', () => {
    const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');
    const check = (text: string): { status: number | null; stdout: string } => {
      writeFileSync(join(project, 'script.ts'), text);
      const options = ['--strict', '--noEmit', '--module', 'nodenext', '--target', 'es2023'];
      return spawnSync(process.execPath, [tsc, ...options, '--lib', 'es2023,dom', 'script.ts'], {
        cwd: project,
        encoding: 'utf8',
      });
    };
    const good = check(SCRIPT);
    expect([good.status, good.stdout]).toEqual([0, '']);
    expect(check(SCRIPT.replace('length: number', 'length: string')).stdout).toContain('TS2322');
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
