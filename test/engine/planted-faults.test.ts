import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { plantFault } from '../soak/plant-fault.ts';
import { PLANTED_FAULTS, type PlantedFault } from '../soak/planted-faults.ts';

/** Whether they are caught takes long (`npm run faults`); that each still has its place is told here, at once. */
const ROOT = join(import.meta.dirname, '../..');

describe('a planted fault', () => {
  it('still finds its place in the code, and the tests that ought to catch it', () => {
    expect(PLANTED_FAULTS.length).toBeGreaterThan(40);
    const lost = PLANTED_FAULTS.flatMap((fault) => {
      try {
        plantFault(fault, ROOT);
        return [];
      } catch (error) {
        return [(error as Error).message];
      }
    });
    expect(lost).toEqual([]);
    const tests = PLANTED_FAULTS.flatMap(({ name, tests: own }) => own.map((test) => ({ name, test })));
    expect(tests.filter(({ test }) => !existsSync(join(ROOT, 'test', test)))).toEqual([]);
  });

  it('has a name of its own and at least one test', () => {
    expect(new Set(PLANTED_FAULTS.map(({ name }) => name)).size).toBe(PLANTED_FAULTS.length);
    expect(PLANTED_FAULTS.filter(({ tests }) => tests.length === 0)).toEqual([]);
  });

  it('is refused by name where its file or its text is gone, stands twice, or would change nothing', () => {
    const root = mkdtempSync(join(tmpdir(), 'strobewright-plant-'));
    try {
      writeFileSync(join(root, 'a.ts'), 'one two two $&');
      const fault: PlantedFault = { name: 'a sign', file: 'a.ts', from: 'one', to: '$1', tests: [] };
      expect(plantFault(fault, root)).toBe('$1 two two $&');
      const refused =
        (change: Partial<PlantedFault>): (() => string) =>
        () =>
          plantFault({ ...fault, ...change }, root);
      expect(refused({ file: 'b.ts' })).toThrow('"a sign": there is no b.ts');
      expect(refused({ from: 'three' })).toThrow(
        '"a sign": its text must stand once in a.ts and stands 0 times',
      );
      expect(refused({ from: 'two' })).toThrow('stands 2 times');
      expect(refused({ to: 'one' })).toThrow('"a sign" changes nothing');
    } finally {
      rmSync(root, { recursive: true });
    }
  });
});
