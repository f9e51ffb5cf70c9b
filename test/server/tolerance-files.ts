import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll } from 'vitest';
import type { StudyResult } from '../../engine/studies/shared/shape.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';

/** Tolerance studies of a demo by the command line, each into a file of a folder of their own. */
export interface ToleranceFiles {
  readonly folder: string;
  /** Words of the command line that write a study into a file. */
  study(file: string, more?: readonly string[]): string[];
  read(file: string): StudyResult;
}

/** Makes the folder before the tests of a file, and takes it away after them. */
export function toleranceFiles(): ToleranceFiles {
  let folder = '';
  beforeAll(async () => {
    await ensureBuild();
    folder = mkdtempSync(join(tmpdir(), 'strobewright-study-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const words = ['--workers', '2', '--format', 'json'];
  return {
    get folder() {
      return folder;
    },
    study: (file, more = []) => [
      'study',
      'tolerance',
      join(ROOT, 'fixtures/designs/classroom-board-first-try-4x4.json'),
      ...words,
      '--output',
      join(folder, file),
      ...more,
    ],
    read: (file) => JSON.parse(readFileSync(join(folder, file), 'utf8')) as StudyResult,
  };
}
