import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from './ensure-build.ts';
import { packProject } from './pack-project.ts';

let project: string;
let remove: () => void;
beforeAll(async () => {
  ({ folder: project, remove } = await packProject());
});
afterAll(() => remove());

const SCRIPT = `import { checkDesign, simulate, wholeWindow } from 'strobewright';
const design = checkDesign({ mat: { rows: 4, columns: 4 } });
const { time, senseVoltage, contributions, error } = simulate(design);
const { strobe, threshold, margin } = wholeWindow(design);
const length: number = senseVoltage.length;
console.log(JSON.stringify([time.length === length, contributions !== undefined, error !== undefined]));
console.log(JSON.stringify([strobe !== null, threshold !== null, Number.isFinite(margin.total)]));
`;

describe('the package in another project', () => {
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
});
