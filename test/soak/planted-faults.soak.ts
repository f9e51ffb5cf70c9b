import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { plantFault } from './plant-fault.ts';
import { PLANTED_FAULTS } from './planted-faults.ts';

/**
 * Do the tests bite? Each fault is planted alone in a copy of the sources; the named tests must fail on it. They pass
 * on the copy without a fault, which the last test shows.
 */
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
let copy = '';

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), 'strobewright-faults-'));
  for (const folder of ['engine', 'server', 'web', 'fixtures', 'test', 'package.json', 'tsconfig.json'])
    cpSync(join(ROOT, folder), join(copy, folder), { recursive: true });
  symlinkSync(join(ROOT, 'node_modules'), join(copy, 'node_modules'));
});
afterAll(() => {
  rmSync(copy, { recursive: true, force: true });
});

/** Runs test files in the copy until one fails; the closing lines of the runner. */
function runTests(tests: readonly string[], named?: string): { failed: boolean; text: string } {
  const vitest = join(ROOT, 'node_modules/vitest/vitest.mjs');
  const files = tests.map((test) => `test/${test}`);
  const config = files[0]!.endsWith('.soak.ts') ? 'test/vitest.soak.config.ts' : 'test/vitest.config.ts';
  const only = named === undefined ? [] : ['-t', named];
  const { status, stdout } = spawnSync(
    process.execPath,
    [vitest, 'run', '--config', config, '--bail', '1', ...only, ...files],
    { cwd: copy, encoding: 'utf8', env: { ...process.env, CI: '', NO_COLOR: '1' }, timeout: 400_000 },
  );
  return { failed: status !== 0, text: stdout };
}

describe('a planted fault is caught by the tests', () => {
  it.each(PLANTED_FAULTS)('$name', (fault) => {
    const { file, tests, named } = fault;
    const path = join(copy, file);
    const faulty = plantFault(fault, copy);
    const sound = readFileSync(path, 'utf8');
    try {
      writeFileSync(path, faulty);
      const { failed, text } = runTests(tests, named);
      expect(failed, `no test of ${tests.join(', ')} failed`).toBe(true);
      expect(text, 'a test failed, not the start of the runner').toMatch(/Tests .*failed/);
    } finally {
      writeFileSync(path, sound);
    }
  });

  it('none is caught where none is planted', () => {
    const tests = [...new Set(PLANTED_FAULTS.flatMap((fault) => fault.tests))];
    for (const kind of [true, false]) {
      const { failed, text } = runTests(tests.filter((test) => test.endsWith('.soak.ts') === kind));
      expect(failed, text.slice(-3000)).toBe(false);
    }
  });
});
