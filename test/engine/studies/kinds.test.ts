import { describe, expect, it } from 'vitest';
import { DESIGN, run, value } from './run-study.ts';
import { supplyCurrent } from '../../../engine/estimates/supply-needs.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { amplifierInput } from '../../../engine/sense-amplifier/amplifier.ts';
import { mean } from '../../../engine/numerics/statistics.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { cycleEnd } from '../../../engine/check/rules-drive.ts';

/**
 * The kinds on the real simulator, each held against a law or a sign that does not come from the study: counting of
 * half-selected cores, supply charge, a threshold's own derivative, the temperature signs of published manuals.
 */

describe('scale', () => {
  const study = run('scale', {
    sizes: [4, 8, 16, [8, 16]],
    windings: ['shared-one-run', 'separate-diagonal'],
    largest: false,
  });
  const at = (winding: string, rows: number, columns: number) =>
    study.results.find(
      ({ values }) => values.winding === winding && values.rows === rows && values.columns === columns,
    );

  it('computes every size and winding', () => {
    expect(study.count).toMatchObject({ planned: 8, done: 8, failed: 0 });
  });

  // P1, derived; 14 half-selected cores on 8 × 8 agree with US 3,646,531 as reported.
  it('counts the half-selected cores of square and oblong mats', () => {
    expect(value(at('shared-one-run', 8, 8), 'halfSelected')).toBe(14);
    expect(value(at('separate-diagonal', 8, 16), 'halfSelected')).toBe(22);
  });

  it('the simulated peak of half-select noise follows the counting law while the wire is short', () => {
    for (const [rows, columns] of [
      [4, 4],
      [8, 8],
      [8, 16],
    ] as const) {
      const one = at('shared-one-run', rows, columns);
      expect(Math.abs(value(one, 'halfSelectPeak') / value(one, 'lawPeak') - 1)).toBeLessThan(0.1);
    }
  });

  it('a balanced winding hears less, by the counting law and in the run', () => {
    for (const key of ['halfSelectPeak', 'lawPeak'])
      expect(value(at('separate-diagonal', 16, 16), key)).toBeLessThan(
        0.5 * value(at('shared-one-run', 16, 16), key),
      );
  });

  it('delay and attenuation grow with the cores along the wire', () => {
    for (const key of ['delay', 'attenuation'])
      expect(value(at('shared-one-run', 16, 16), key) / value(at('shared-one-run', 8, 8), key)).toBeCloseTo(
        4,
        9,
      );
  });

  it('is what a strobe window says of the same mat at the same strobe and threshold, as designed and at the corners', () => {
    for (const [winding, side] of [
      ['shared-one-run', 8],
      ['separate-diagonal', 4],
    ] as const) {
      const mat = at(winding, side, side)!;
      const held = {
        ...DESIGN,
        mat: { ...DESIGN.mat, rows: side, columns: side },
        winding: { kind: winding },
        strobe: { time: `${value(mat, 'strobe')} s` },
        detector: { ...DESIGN.detector, threshold: `${value(mat, 'threshold')} V` },
      };
      const { verdict } = strobeWindow(checkDesign(held), { cases: 'corners' });
      // A window also tries other addresses and histories, which cost under a tenth of a millivolt here.
      expect(Math.abs(value(mat, 'margin') - verdict.sets.nominal.margin)).toBeLessThan(1e-4);
      expect(Math.abs(value(mat, 'cornerMargin') - verdict.sets.corners!.margin)).toBeLessThan(1e-4);
    }
  });

  it('chooses a threshold and strobe that leave no less at the corners than those of the design', () => {
    const held = run('scale', {
      sizes: [8],
      windings: ['shared-one-run'],
      largest: false,
      strobe: 'fixed',
    });
    expect(value(at('shared-one-run', 8, 8), 'cornerMargin')).toBeGreaterThanOrEqual(
      value(held.results[0], 'cornerMargin'),
    );
    expect(held.findings.at(-1)).toMatch(/^Strobe and threshold are held/u);
  });

  it('ends in an answer: which winding, what is left, what limits it', () => {
    expect(study.findings[0]).toMatch(
      /^At 4 × 4 (?:".+"(?: \(as good: .+\))? leaves most|none of these windings keeps what is required; ".+").* mV at the corners[;,] limited by .+\.$/u,
    );
  });
});

describe('temperature', () => {
  const study = run('temperature', { from: '5 degC', to: '45 degC', steps: 3, coarse: 6 });
  const [cold, nominal, warm] = study.results;

  // T1 and T2: IBM 1800 maintenance manual SY26-5956-6, as reported: warmer peaks earlier, colder later.
  it('with a steady drive the best strobe comes earlier at the nominal than when cold', () => {
    expect(value(cold, 'bestStrobe')).toBeGreaterThan(value(nominal, 'bestStrobe'));
  });

  // Törnquist, Elteknik 2, 1959, pp. 97-98: a region of drive that falls as the core gets warmer.
  it('the drive that works falls with temperature, bounded by the ONE below and the ZERO above', () => {
    for (const key of ['driveLow', 'driveHigh']) {
      expect(value(cold, key)).toBeGreaterThan(value(nominal, key));
      expect(value(nominal, key)).toBeGreaterThan(value(warm, key));
    }
    expect(nominal?.values.below).toMatch(/ONE|false ZERO/u);
    expect(nominal?.values.above).toMatch(/ZERO|false ONE/u);
    expect(study.findings[0]).toMatch(
      /^Drive that works with the strobe fixed: \d+ mA to \d+ mA per line at 5 °C, \d+ mA to \d+ mA per line at 45 °C\. Bounded below by: [^;]*ONE[^;]*; above by: [^;]*ZERO/u,
    );
    expect(study.findings[1]).toMatch(
      /^Recommended drive per line: \d+ mA at 25 °C, changing by −0\.\d+ %\/K/u,
    );
  });

  it('drives that track keep more margin when warm', () => {
    expect(value(warm, 'trackedBest')).toBeGreaterThan(value(warm, 'steadyBest'));
  });
});

describe('rate', () => {
  const study = run('rate', { steps: 4, from: '2 us', to: '8 us' });
  const points = study.results.filter((result) => result.values.highest === undefined);

  it('supply current is quiescent plus rate times charge, and dissipation that times the supply voltage', () => {
    const design = checkDesign(DESIGN);
    for (const point of points) {
      expect(value(point, 'current')).toBeCloseTo(supplyCurrent(design, value(point, 'rate')), 12);
      expect(value(point, 'dissipation')).toBeCloseTo(value(point, 'current') * design.supply.voltage, 12);
    }
  });

  it('the highest rate is that of a period that works, and says what limits it', () => {
    const highest = study.results.find((result) => result.values.highest !== undefined);
    expect(value(highest, 'period')).toBeGreaterThanOrEqual(cycleEnd(checkDesign(DESIGN)) * 0.999);
    expect(study.findings[0]).toMatch(
      /^Highest rate as designed \d+ kHz \(period [\d.]+ µs\), limited by .+\.$/u,
    );
    for (const point of points)
      if (value(point, 'period') > value(highest, 'period') * 1.02) expect(point.values.pass).toBe(true);
  });

  it("agrees with the strobe window of the same period, at its own strobe and at the study's", () => {
    for (const period of [
      study.plan.nominal ? value(points[0], 'period') : NaN,
      value(points.at(-1), 'period'),
    ]) {
      const held = { strobe: { time: `${study.plan.nominal!.time} s` }, cycle: { period: `${period} s` } };
      const window = strobeWindow(checkDesign({ ...DESIGN, ...held }), { cases: 'corners' });
      const point = points.find((each) => each.values.period === period);
      expect(value(point, 'margin')).toBeCloseTo(window.margin.left, 6);
      expect(point?.values.pass).toBe(window.verdict.sets.nominal.verdict === 'reads');
    }
  });

  it('names the supply when it gives out first', () => {
    const poor = run(
      'rate',
      { steps: 2, from: '2 us' },
      { ...DESIGN, supply: { quiescent: '10 mA', budget: '400 mA' } },
    );
    expect(poor.findings[0]).toMatch(/supply: the current is over the budget/u);
  });

  const coupled = { ...DESIGN, amplifier: { highPass: '1 kHz' } };

  // Derived: a capacitor that passes no direct current holds the mean of what it hears, as long as the period is short
  // against its time constant (159 us here): it strays from the mean within a cycle by the charge that flows in it over
  // that time constant. A mat that is inhibited hears the drop of the inhibit in its wire.
  it('the baseline after endless cycles is the mean of the cycle, with and without inhibit', () => {
    const { results } = run('rate', { steps: 2, from: '2 us', to: '8 us' }, coupled);
    for (const point of results.slice(1)) {
      const design = checkDesign({ ...coupled, cycle: { period: `${value(point, 'period')} s` } });
      for (const [key, bit] of [
        ['baselineNone', 1],
        ['baselineAll', 0],
      ] as const) {
        const { programme } = design;
        const cycles = {
          ...design,
          selected: { ...design.selected, bit },
          programme: [...programme, ...programme],
        };
        const heard = simulate(cycles, { contributions: false, estimateError: false, coupling: 0 });
        const input = amplifierInput(design.amplifier, heard.senseVoltage, heard.commonMode);
        const centre = mean(input);
        let [charge, most] = [0, 0];
        for (const volts of input) {
          charge += (volts - centre) * design.numerics.output * 2 * Math.PI * 1e3;
          most = Math.max(most, Math.abs(charge));
        }
        const off = Math.abs(value(point, key) * design.amplifier.divider - centre);
        expect(off).toBeLessThan(most + 0.01 * Math.abs(centre));
        if (bit === 0) expect(Math.abs(centre)).toBeGreaterThan(20 * most);
      }
    }
    expect(points.every((point) => point.values.baseline === 0)).toBe(true);
  });
});

describe('pattern', () => {
  const study = run(
    'pattern',
    { random: 3, marchCycles: 8 },
    { ...DESIGN, winding: { kind: 'separate-diagonal' } },
  );
  const named = (name: string) => study.results.find((result) => result.name === name);

  // P4: MIT memo M-2919, 1954 (abstract read): a checkerboard is not the worst case by itself.
  it('the worst pattern of the winding has the greatest signed count, and no pattern a greater', () => {
    const counts = study.results.map((result) => value(result, 'count'));
    expect(value(named('worst for a ZERO, undisturbed'), 'count')).toBe(Math.max(...counts));
    expect(value(named('worst for a ONE, undisturbed'), 'count')).toBe(Math.min(...counts));
  });

  // P5, same source: the disturb state matters.
  it('the same pattern with another disturb history gives another output', () => {
    const [a, b] = [named('ones, undisturbed'), named('ones, disturbed')];
    expect(Math.abs(value(a, 'one') - value(b, 'one'))).toBeGreaterThan(1e-6);
  });

  it('says that its marches are short ones, and what runs them over the whole mat', () => {
    expect(study.findings).toContain(
      'A march here is the last 8 cycles at most on the row and column of the one core that is read, not over every address: option wholeMat runs march and checkerboard over the whole mat.',
    );
  });

  it('marches run as programmes and are read like the others', () => {
    for (const name of ['march up, ZERO to ONE', 'march down, ONE to ZERO']) {
      expect(value(named(name), 'one')).toBeGreaterThan(0.02);
      expect(value(named(name), 'zero')).toBeLessThan(0.018);
    }
  });
});

describe('sensitivity', () => {
  const study = run('sensitivity', {
    inputs: ['threshold', 'drive.x', 'core.flux', '/wire/couplingCapacitance'],
  });
  const of = (name: string) => study.results.find((result) => result.name === name);

  it('moving the threshold moves the margin by as much, exactly', () => {
    expect(Math.abs(value(of('threshold'), 'margin'))).toBeCloseTo(0.18e-3, 9);
    expect(value(of('threshold'), 'one')).toBeCloseTo(0, 12);
  });

  it('a core with more flux gives a greater ONE', () => {
    expect(value(of('core flux'), 'one')).toBeGreaterThan(0);
  });

  it('ranks by size', () => {
    const sizes = study.ranking.map((entry) => Math.abs(entry.value));
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
  });
});
