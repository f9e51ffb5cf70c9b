import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { predictCost } from '../../../engine/estimates/cost.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { evaluatePoint, planStudy, studyWork } from '../../../engine/studies/study.ts';
import { STUDY_KINDS } from '../../../engine/studies/shared/shape.ts';
import type { StudyKind, StudyTools } from '../../../engine/studies/shared/shape.ts';

const DESIGN = {
  name: 'a small mat',
  mat: { rows: 4, columns: 4, mats: 2 },
  amplifier: { highPass: '20 kHz' },
  strobe: { time: '140 ns' },
};
const SMALL: Readonly<Record<StudyKind, object>> = {
  scale: { sizes: [4, [4, 12], 16], windings: ['shared-one-run', 'separate-diagonal'], largest: false },
  shmoo: { x: 'period', y: 'inhibit', rows: 2, columns: 2, coarse: 2, resolution: 0.1 },
  tolerance: { draws: 4, before: 'cycle' },
  temperature: { steps: 2, coarse: 4 },
  rate: { steps: 2 },
  pattern: { random: 1, marchCycles: 6, wholeMat: true },
  sensitivity: { inputs: ['inhibit', 'drive.x', 'period'] },
};

/** A tool that counts class-steps as `predictCost` means them, for every run but those that a run makes of itself. */
function countingTools(): StudyTools & { readonly spent: () => number } {
  let spent = 0;
  return {
    checkDesign,
    simulate(design, options) {
      const run = simulate(design, options);
      spent += run.method.steps * (run.method.classes + run.method.sections);
      return run;
    },
    spent: () => spent,
  };
}

describe('the price of a study', () => {
  it.each(STUDY_KINDS)('%s is never under what its points then take', (kind) => {
    const plan = planStudy({ kind, design: DESIGN, options: SMALL[kind] as never });
    const tools = countingTools();
    for (let i = 0; i < plan.points.length; i++) evaluatePoint(plan, i, tools);
    expect(tools.spent()).toBeGreaterThan(0);
    expect(studyWork(plan)).toBeGreaterThanOrEqual(tools.spent());
  });

  it('of mats is that of each mat, not of the one they start from', () => {
    const price = (sizes: readonly number[]): number =>
      studyWork(
        planStudy({
          kind: 'scale',
          design: { name: 'small' },
          options: { sizes, windings: ['shared-one-run'], largest: false },
        }),
      );
    const own = (n: number): number =>
      // Six cases; of either bit about two strobes, at half the price: 5 addresses, 7 histories and both, two cycles
      // each but one, then 2 states at 8 corners, two cycles each.
      (6 + 4 * (5 + 6.5 + 1) + 4 * 16) *
      predictCost(
        checkDesign({ name: 'small', mat: { rows: n, columns: n }, winding: { kind: 'shared-one-run' } }),
      ).work;
    expect(price([4])).toBe(own(4));
    expect(price([4, 64, 128])).toBe(own(4) + own(64) + own(128));
    expect(price([128])).toBeGreaterThan(10 * price([4]));
  });

  it('of the search for the largest mat is that of eight mats of the largest size', () => {
    const price = (largest: boolean): number =>
      studyWork(
        planStudy({
          kind: 'scale',
          design: {},
          options: { sizes: [4], windings: ['shared-one-run'], largest },
        }),
      );
    const mat = { rows: 128, columns: 128 };
    const whole = predictCost(checkDesign({ mat, winding: { kind: 'shared-one-run' } })).work;
    expect(price(true) - price(false)).toBe(8 * 120 * whole);
  });
});
