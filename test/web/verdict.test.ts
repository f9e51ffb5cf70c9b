import { describe, expect, it } from 'vitest';
import { checkDesign, runEnsemble, simulate } from '../../engine/index.ts';
import { planLanes } from '../../web/stage/trace/lane-plan.ts';
import { strobeStateAt, type StrobeState } from '../../web/model/strobe-state.ts';
import { verdictOf, type EngineVerdict } from '../../web/model/verdict.ts';
import type { Verdict } from '../../web/model/verdict-cells.ts';
import { createAtoms } from '../../web/state/atoms.ts';
import { derive } from '../../web/state/derived.ts';
import { createGestures } from '../../web/state/gestures.ts';
import type { Run } from '../../web/model/run.ts';

const raw = {
  name: 'small',
  core: { preset: 'ferrite-20-mil' },
  mat: { rows: 4, columns: 4 },
  winding: { kind: 'shared-one-run' },
  detector: { threshold: '18 mV' },
};
const design = checkDesign(raw);
const ensemble = runEnsemble(design, { simulate, cases: 'full' });
if (!('envelope' in ensemble)) throw new Error('no ensemble');
const bit = (value: 0 | 1) => simulate({ ...design, selected: { ...design.selected, bit: value } });
const run: Run = {
  design,
  one: bit(1),
  zero: bit(0),
  ensemble,
  reason: undefined,
  grade: 'full',
  warnings: [],
};
const strobe = strobeStateAt(run, undefined, design.detector.threshold)!;
const told = (sets: EngineVerdict['sets'], state: StrobeState = strobe): Verdict =>
  verdictOf({ ...state, verdict: { sets } } as StrobeState, 'from a preset');
const cell = (verdict: Verdict, set: string) => verdict.cells.find((each) => each.set === set)!;

describe('the verdict', () => {
  it('takes margin and corners from the present window and leaves the rest unknown', () => {
    const verdict = verdictOf(strobe, 'from a preset');
    expect(cell(verdict, 'nominal').margin).toBe(strobe.margin.left);
    expect(cell(verdict, 'corners').margin).toBe(strobe.corners!.margin.left);
    expect(['parts', 'core'].map((set) => cell(verdict, set).standing)).toEqual(['unknown', 'unknown']);
  });

  it('takes what the engine tells before what the window says', () => {
    const verdict = told({ nominal: { margin: 0.009 }, corners: { margin: -0.0021 } });
    expect(cell(verdict, 'nominal').figure).toBe('9 mV left');
    expect(cell(verdict, 'corners').figure).toBe('−2.1 mV left');
  });

  it('is never better than its worst known cell', () => {
    const margins = [-0.004, 0.002, 0.02];
    const rank = { fails: 0, short: 1, reads: 2, unknown: 3 };
    for (const nominal of margins)
      for (const corners of margins)
        for (const low of margins) {
          const verdict = told({
            nominal: { margin: nominal },
            corners: { margin: corners },
            core: { low, high: 0.03 },
          });
          const worst = Math.min(...verdict.cells.map(({ standing }) => rank[standing]));
          expect(rank[verdict.standing]).toBe(worst);
          if (worst < 2) expect(verdict.headline).not.toMatch(/^Reads right(?! as designed, not)/);
        }
  });

  it('says “as designed” while nothing else is known', () => {
    const alone = { ...strobe, corners: undefined };
    expect(verdictOf(alone, '').headline).toBe('Reads right as designed.');
    expect(verdictOf(undefined, '').standing).toBe('unknown');
  });
});

describe('what is derived', () => {
  const keyed = <T>(value: T, key: string) => ({ value, key });
  function page() {
    const atoms = createAtoms(raw);
    const now = derive(atoms);
    const act = createGestures(atoms, now);
    atoms.run.value = keyed(run, now.physics.value);
    atoms.judged.value = keyed(run, now.physics.value);
    return { atoms, now, act };
  }

  it('is old from the moment an input changes until an answer to it comes, and not for a strobe that moves', () => {
    const { atoms, now, act } = page();
    expect([now.runIsOld.value, now.judgedIsOld.value]).toEqual([false, false]);
    act.setStrobe(150e-9);
    expect(now.judgedIsOld.value).toBe(false);
    expect(now.strobe.value!.time).toBeCloseTo(150e-9, 12);
    act.set(['/temperature'], '40 degC');
    expect([now.runIsOld.value, now.judgedIsOld.value]).toEqual([true, true]);
    expect(now.announcement.value).toBe('');
    const other = { ...run, ensemble: undefined, grade: 'traces' as const, one: bit(1) };
    atoms.run.value = keyed(other, now.physics.value);
    expect([now.runIsOld.value, now.judgedIsOld.value]).toEqual([false, true]);
    act.undo();
    expect(now.runIsOld.value).toBe(true);
  });

  it('keeps the last design that held while an input is refused, and calls what is shown old', () => {
    const { now, act } = page();
    act.set(['/temperature'], 40);
    expect(now.design.value).toBeUndefined();
    expect(now.inForce.value).toEqual(run.design);
    expect(now.runIsOld.value).toBe(true);
    expect(now.faults.value[0]!.field).toBe('/temperature');
  });

  it('tells the difference to what stood before, margin by margin', () => {
    const { atoms, now } = page();
    expect(now.difference.value).toBeUndefined();
    atoms.before.value = { raw, run };
    expect(now.difference.value).toEqual({ nominal: 0, corners: 0 });
    atoms.beforeOn.value = false;
    expect(now.before.value).toBeUndefined();
  });
});

describe('the lanes', () => {
  it('fill their place to the pixel, and fold the currents first, then the causes', () => {
    const heights = [900, 600, 480, 380].map((height) => planLanes({ height, em: 1 }, undefined));
    expect(heights.map(({ causes, currents }) => [causes > 0, currents > 0])).toEqual([
      [true, true],
      [true, true],
      [true, false],
      [false, false],
    ]);
    for (const { signal } of heights) expect(signal).toBeGreaterThanOrEqual(200);
  });
});
