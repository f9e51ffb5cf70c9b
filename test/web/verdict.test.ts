import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import type { SetVerdicts } from '../../engine/strobe/verdict-of-sets.ts';
import type { MarginVerdict } from '../../engine/strobe/verdict-of-sets.ts';
import type { Judgement } from '../../engine/strobe/verdict-of-sets.ts';
import { planLanes } from '../../web/stage/trace/lane-plan.ts';
import { strobeStateAt } from '../../web/model/strobe-state.ts';
import { checkNow } from '../../web/model/check-now.ts';
import { verdictOf } from '../../web/model/verdict.ts';
import type { Verdict } from '../../web/model/verdict-cells.ts';
import { createAtoms } from '../../web/state/atoms.ts';
import { derive } from '../../web/state/derived.ts';
import { createGestures } from '../../web/state/gestures.ts';
import { coreEnvelope, cornerEnvelope } from '../../web/model/envelopes.ts';
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
const told = (sets: Partial<SetVerdicts>): Verdict =>
  verdictOf(
    { ...strobe, verdict: { ...strobe.verdict, sets: { ...strobe.verdict.sets, parts: null, ...sets } } },
    'from a preset',
  );
const marginOf = (verdict: Judgement, margin: number): MarginVerdict => ({
  verdict,
  margin,
  width: 50e-9,
  side: 'one',
  case: 'a case',
});
const cell = (verdict: Verdict, set: string) => verdict.cells.find((each) => each.set === set)!;

describe('the verdict', () => {
  it('is not good where drivers and supply cannot do what its runs take for granted, and says what', () => {
    const limits = [
      {
        code: 'supply-current',
        field: '/supply/budget',
        used: 1.8,
        limit: 1.5,
        unit: 'A',
        excess: 0.2,
      },
    ] as const;
    const good = { nominal: marginOf('reads', 9e-3), corners: marginOf('reads', 6e-3), core: null };
    const sets = { ...strobe.verdict.sets, parts: null, ...good };
    const verdict = verdictOf({ ...strobe, verdict: { ...strobe.verdict, sets, limits } }, 'from a preset');
    expect(verdict.standing).toBe('short');
    expect(verdict.headline).toContain('if drivers and supply gave more than they can.');
    expect(verdict.because).toContain(
      'Taken for granted in this, but beyond its limit: average current of the supply: 1.8 A of 1.5 A.',
    );
    expect(told(good).standing).toBe('reads');
  });

  it('gives each cell what the engine judged, and leaves the sets that it did not judge unknown', () => {
    const verdict = verdictOf(strobe, 'from a preset');
    const { nominal, corners } = strobe.verdict.sets;
    expect(cell(verdict, 'nominal')).toMatchObject({ margin: nominal.margin, standing: nominal.verdict });
    expect(cell(verdict, 'nominal').margin).toBe(strobe.margin.left);
    expect(cell(verdict, 'corners')).toMatchObject({ margin: corners!.margin, standing: corners!.verdict });
    const parts = strobe.verdict.sets.parts!;
    expect(cell(verdict, 'parts').standing).toBe(parts.verdict);
    const holding = told({ parts: { ...parts, verdict: null, softest: { ...parts.softest, holds: true } } });
    expect(cell(holding, 'parts')).toMatchObject({ standing: 'unknown', figure: 'not drawn' });
    expect(cell(verdict, 'core').standing).toBe('unknown');
    expect(cell(told({}), 'parts').standing).toBe('unknown');
  });

  it('writes margins with their sign, intervals from low to high, and yields as counts', () => {
    const verdict = told({
      corners: marginOf('fails', -0.0021),
      core: { verdict: 'short', low: 0.001, high: 0.0123, worst: null, measureNext: null },
      parts: {
        verdict: 'short',
        mat: null,
        stack: { yield: 0.91, low: 0.85, high: 0.95 },
        draws: 100,
        seed: 7,
        softest: { sigmas: 4, one: 1, zero: 1, least: 0.5, holds: true },
      },
    });
    expect(['corners', 'core', 'parts'].map((set) => cell(verdict, set).figure)).toEqual([
      '−2.1 mV left',
      '1 to 12.3 mV',
      '91 of 100',
    ]);
  });

  it('is never better than its worst known cell', () => {
    const rank = { fails: 0, short: 1, reads: 2, unknown: 3 };
    const judgements = ['fails', 'short', 'reads'] as const;
    for (const nominal of judgements)
      for (const corners of judgements)
        for (const core of judgements) {
          const verdict = told({
            nominal: marginOf(nominal, 0.01),
            corners: marginOf(corners, 0.01),
            core: { verdict: core, low: 0.01, high: 0.03, worst: null, measureNext: null },
          });
          const worst = Math.min(...[nominal, corners, core].map((each) => rank[each]));
          expect(rank[verdict.standing]).toBe(worst);
          if (worst < 2)
            expect(verdict.headline).toMatch(/^Does not read right|, not |, but with less than asked for/);
        }
  });

  it('names every set that fails, and says of the one that decides by how much', () => {
    const core = { verdict: 'fails' as const, low: -0.04, high: 0.01, worst: null, measureNext: null };
    const failing = told({
      nominal: marginOf('reads', 0.0119),
      corners: marginOf('fails', -0.0159),
      core,
    });
    expect(failing.headline).toBe(
      'Reads right as designed, not at the corners nor with every core it may be.',
    );
    expect(failing.because).toMatch(/^At the corners: −15.9 mV left/);
    const nowhere = told({ nominal: marginOf('fails', -0.001), corners: marginOf('fails', -0.02), core });
    expect(nowhere.headline).toBe('Does not read right as designed.');
    const unsure = told({ nominal: marginOf('reads', 0.0119), corners: marginOf('reads', 0.006), core });
    expect(unsure.headline).toBe(
      'Reads right as designed and at the corners, not with every core it may be.',
    );
    expect(unsure.because).toMatch(/^Core uncertainty: −40 to 10 mV/);
  });

  it('says “as designed” while nothing else is known', () => {
    const verdict = told({ nominal: marginOf('reads', 0.01), corners: null });
    expect(verdict.headline).toBe('Reads right as designed.');
    expect(verdictOf(undefined, '').standing).toBe('unknown');
  });
});

describe('the envelope of a wider set', () => {
  it('of the corners has at the strobe the very margin that the corners leave', () => {
    const { time, level, corners } = strobe;
    const wide = cornerEnvelope(strobe)!;
    const at = (values: Float64Array) => valueAt(wide.time, values, time);
    expect(at(wide.one) - level).toBeCloseTo(corners!.margin.one, 9);
    expect(level - at(wide.zero)).toBeCloseTo(corners!.margin.zero, 9);
    expect(at(wide.one)).toBeLessThan(valueAt(wide.time, strobe.envelope.one, time));
  });

  it('of cores that it could be is the worst of all drawn, each about its own strobe where that is found', () => {
    const time = Float64Array.from([0, 1, 2, 3, 4, 5, 6, 7]);
    const draw = (later: number, peak: number) => ({
      later,
      one: time.map((t) => (t === peak ? 10 : 0)),
      zero: time.map((t) => t / 10),
    });
    const of = (found: boolean) =>
      coreEnvelope(
        {
          ...ensemble,
          core: { draws: [draw(0, 3), draw(1, 4)], ends: [] },
          envelope: { ...ensemble.envelope, time },
          uncertainties: { ...ensemble.uncertainties, delay: 1 },
        },
        found,
      )!;
    expect(of(true).one[4]).toBe(10);
    expect(of(false).one[4]).toBe(0);
    expect(of(true).zero[4]).toBeCloseTo(0.4, 12);
    expect(coreEnvelope(ensemble, true)).toBeUndefined();
  });
});

describe('what is derived', () => {
  const keyed = <T>(value: T, key: string) => ({ value, key });
  function page() {
    const atoms = createAtoms(raw);
    atoms.checks.take(checkNow);
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
    const windows = [900, 600, 500, 420];
    const heights = windows.map((height) => planLanes({ width: 700, height, em: 1 }, undefined));
    expect(heights.map(({ causes, currents }) => [causes > 0, currents > 0])).toEqual([
      [true, true],
      [true, true],
      [true, false],
      [false, false],
    ]);
    for (const { signal } of heights) expect(signal).toBeGreaterThanOrEqual(200);
    // A folded lane keeps the 24 px of its title; head, gaps and axis take 78.
    expect(
      heights.map(
        ({ signal, causes, detector, currents, cycle }) =>
          78 + signal + (causes || 24) + detector + (currents || 24) + cycle,
      ),
    ).toEqual(windows);
  });
});
