import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { MAT_PROGRAMMES } from '../../../engine/history/mat-programme.ts';
import { testMat } from '../../../engine/history/mat-test.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
const march = MAT_PROGRAMMES.find(({ name }) => name === 'march')!;

describe('a programme over a whole mat', () => {
  it('judges by an estimate what full runs would judge, and says how far it was off', () => {
    const design = checkDesign({
      mat: { rows: 16, columns: 16 },
      core: { preset: 'ferrite-20-mil' },
      winding: { kind: 'separate-diagonal' },
      strobe: { time: '140 ns' },
      detector: { threshold: '18 mV' },
    });
    const few = testMat(design, march, { simulate });
    const all = testMat(design, march, { simulate, samples: 2000 });
    expect(all.runs).toBe(all.reads);
    expect(few.runs).toBeLessThan(few.reads / 8);
    expect(few.wrong).toEqual([]);
    expect(all.wrong).toEqual([]);
    for (const key of ['leastOne', 'greatestZero'] as const) {
      const apart = Math.abs(few[key]!.value - all[key]!.value);
      expect(apart).toBeLessThan(Math.max(20 * few.estimate.miss, 0.05e-3));
    }
    expect(few.estimate.miss).toBeLessThan(few.guard);
  });
});
