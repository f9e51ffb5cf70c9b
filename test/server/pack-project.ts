import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ensureBuild, ROOT } from './ensure-build.ts';

export interface PackedProject {
  readonly folder: string;
  /** Paths of the files of the package. */
  readonly files: readonly string[];
  remove(): void;
}

/** The package as somebody else has it: packed, and unpacked into a project of its own beside its dependencies. */
export async function packProject(): Promise<PackedProject> {
  await ensureBuild();
  const folder = mkdtempSync(join(tmpdir(), 'strobewright-project-'));
  const packed = execFileSync('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', folder], {
    cwd: ROOT,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const [{ filename, files }] = JSON.parse(packed) as [
    { filename: string; files: readonly { readonly path: string }[] },
  ];
  const place = join(folder, 'node_modules/strobewright');
  mkdirSync(place, { recursive: true });
  execFileSync('tar', ['-xzf', join(folder, filename), '-C', place, '--strip-components', '1']);
  symlinkSync(join(ROOT, 'node_modules'), join(place, 'node_modules'));
  writeFileSync(join(folder, 'package.json'), '{ "type": "module" }\n');
  return {
    folder,
    files: files.map(({ path }) => path),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
