import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { evaluatePoint, planStudy, summarise } from '../../../engine/studies/study.ts';
import { wholeWindow } from '../../../engine/studies/whole-window.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';

const raw = {
  mat: { rows: 2, columns: 2, mats: 3 },
  // Three mats in one cycle draw 1.8 A: a supply that gives less would decide before any set does.
  supply: { budget: '2 A' },
  stored: { seed: 5 },
  requirement: { sets: ['nominal', 'parts'], yield: 0.8 },
};
const design = checkDesign(raw);

describe('the yield of parts in a verdict', () => {
  const found = wholeWindow(design);
  const parts = found.verdict.sets.parts!;

  it('is that of the tolerance study at the same strobe', () => {
    const held = { ...raw, strobe: { time: `${found.inForce.time} s` } };
    const plan = planStudy({ kind: 'tolerance', design: held, options: { draws: parts.draws, seed: 5 } });
    const study = summarise(
      plan,
      plan.points.map((_, i) => evaluatePoint(plan, i)),
    );
    const stack = study.estimates.find(({ label }) => label === 'yield per stack')!;
    expect(parts.stack).toEqual({ yield: stack.value, low: stack.low, high: stack.high });
    expect(parts.draws).toBe(stack.samples);
  });

  it('is no greater for a stack than for one of its mats', () => {
    expect(parts.mat!.yield).toBeGreaterThanOrEqual(parts.stack!.yield);
    expect(parts.mat!.low).toBeLessThan(parts.mat!.yield);
  });

  it('is drawn only where it is asked for, and decides only there', () => {
    const unasked = { ...design, requirement: { ...design.requirement, sets: ['nominal'] as const } };
    expect(wholeWindow(unasked).verdict.sets.parts!.stack).toBeNull();
    const told = wholeWindow(unasked, { parts: true }).verdict;
    expect(told.sets.parts!.stack).toEqual(parts.stack);
    expect([told.decides, told.missing]).toEqual(['nominal', []]);
  });

  it('is not known at another strobe than that at which it was drawn', () => {
    const drawn = { mat: parts.mat!, stack: parts.stack!, draws: parts.draws, seed: parts.seed };
    const ensemble = runEnsemble(design, { simulate, cases: 'nominal', partsYield: () => drawn });
    if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
    const { threshold } = design.detector;
    const at = (time: number) => windowOf(ensemble, { time, threshold }).verdict;
    const here = found.inForce.time;
    expect(at(here).sets.parts!.stack).toEqual(parts.stack);
    expect(at(here + 5e-9).sets.parts!.stack).toBeNull();
    expect(at(here + 5e-9).missing).toEqual(at(here + 5e-9).sets.parts!.softest.holds ? ['parts'] : []);
  });
});
