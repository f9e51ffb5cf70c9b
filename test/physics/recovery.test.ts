import { describe, expect, it } from 'vitest';
import { recoveryReport } from '../../engine/channel/recovery-report.ts';
import { dutyReport } from '../../engine/channel/worst-duty.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Cycle } from '../../engine/design/drive.ts';
import { amplify } from '../../engine/sense-amplifier/amplifier.ts';
import { baselineShift } from '../../engine/sense-amplifier/periodic-steady-state.ts';
import { repetitionCoupling } from '../../engine/sense-amplifier/repetition.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import { statedWires } from '../stated-wires.ts';

/** I3 after US 3,564,517 (1971), as reported, and Goldstick and Klein, 1962 (abstract read); the rest is derived. */
const mat = (raw: object = {}): Design =>
  checkDesign(
    statedWires({
      mat: { rows: 16, columns: 16 },
      core: { preset: 'ferrite-20-mil' },
      winding: { kind: 'shared-one-run' },
      selected: { row: 3, column: 4 },
      strobe: { time: '130 ns' },
      ...raw,
    }),
  );

describe('inhibit in a shared wire at the next strobe', () => {
  // Ends far above the wire's impedance let it ring; fine steps, because long ones would damp it.
  const open = {
    terminations: { a: '2 kohm', b: '2 kohm' },
    amplifier: { inputResistance: '1 Mohm', inputClamp: 'none', outputLimit: '1 kV' },
    wire: { resistancePerCore: '1 mohm', lossTime: '0.02 ns' },
    numerics: { step: '0.2 ns' },
  };

  it('I3: differs by whether the cycle before was inhibited, and vanishes as dead time grows', () => {
    const deadTimes = [0, 0.05e-6, 0.1e-6, 0.2e-6, 0.4e-6, 0.8e-6];
    const { deadTimes: points } = recoveryReport(mat({ ...open, strobe: { time: '126 ns' } }), {
      simulate,
      deadTimes,
    });
    const apart = points.map(({ inhibited, written }) => Math.abs(inhibited - written));
    // 3.5 mV; 3.3 with twice finer steps and sections.
    expect(apart[0]).toBeGreaterThan(1e-3);
    // Monotone but for ringing: each is under the greatest of those before it.
    for (let k = 1; k < apart.length; k++) expect(apart[k]).toBeLessThan(Math.max(...apart.slice(0, k)));
    expect(apart.at(-1)).toBeLessThan(apart[0] / 50);
  });

  it('rings longer between ends that do not match', () => {
    const matched = recoveryReport(mat(), { simulate, deadTimes: [0] });
    const unmatched = recoveryReport(mat(open), { simulate, deadTimes: [0] });
    expect(Math.abs(matched.deadTimes[0].inhibited)).toBeLessThan(
      Math.abs(unmatched.deadTimes[0].inhibited) / 100,
    );
    expect(matched.kick).toBeLessThan(unmatched.kick / 100);
  });

  it('is held by a clamp for about L I / 2 V, the longer the lower the clamp (derived)', () => {
    const inductance = 256 * (1e-9 + 0.85e-9);
    const tails = ['0.5 V', '1 V', 'none'].map(
      (clamp) => recoveryReport(mat({ drive: { inhibit: { clamp } } }), { simulate, deadTimes: [0] }).tail,
    );
    expect(tails[0]).toBeGreaterThan(tails[1]);
    expect(tails[1]).toBeGreaterThan(tails[2]);
    // The current starts to fall with the edge, of 40 ns, and the clamp adds its own drop.
    const held = (inductance * 0.34) / (2 * 0.5);
    expect(tails[0]).toBeGreaterThan(0.4 * held);
    expect(tails[0]).toBeLessThan(1.2 * held);
  });

  it('leaves the cores disturbed for good: a long rest does not undo what inhibit did to them', () => {
    const { history, deadTimes: points } = recoveryReport(mat(), { simulate, deadTimes: [0, 2e-6] });
    expect(Math.abs(history)).toBeGreaterThan(0.05e-3);
    expect(Math.abs(points[1].left)).toBeLessThan(0.001 * Math.abs(history));
  });
});

describe('cycles before, through AC coupling', () => {
  const coupled = (raw: object = {}, period = '4 us'): Design =>
    mat({ amplifier: { highPass: '50 kHz', polarity: 'address' }, cycle: { period, ...raw } });

  it('leave the baseline that a long run of the same cycles leaves, within 0.1 % of the ONE', () => {
    for (const [bit, inhibitedShare] of [
      [0, 1],
      [1, 0],
    ] as const) {
      const design = coupled({ inhibitedShare });
      const { row, column } = design.selected;
      const cycle: Cycle = { row, column, lines: 'both', read: true, write: 'restore' };
      const run = simulate(
        { ...design, selected: { row, column, bit }, programme: [cycle, cycle] },
        { contributions: false, estimateError: false, coupling: 0 },
      );
      const n = run.time.length - 1;
      const cycles = 40;
      const long = (trace: Float64Array): Float64Array =>
        Float64Array.from({ length: n * cycles + 1 }, (_, i) => trace[i % n]);
      const time = Float64Array.from({ length: n * cycles + 1 }, (_, i) => i * design.numerics.output);
      const { referred } = amplify(design, time, long(run.senseVoltage), long(run.commonMode));
      const coupling = repetitionCoupling(design, simulate);
      const steady = amplify(design, run.time, run.senseVoltage, run.commonMode, { coupling });
      const one = 45e-3;
      // From 25 ns on: the poles start settled.
      for (const t of [25, 60, 130, 300, 500])
        expect(Math.abs(referred[n * (cycles - 1) + t] - steady.referred[t])).toBeLessThan(1e-3 * one);
      expect(Math.abs(baselineShift(design.amplifier, coupling))).toBeGreaterThan(0.05e-3);
    }
  });

  it('mix by their shares', () => {
    const at = (inhibitedShare: number): number => repetitionCoupling(coupled({ inhibitedShare }), simulate);
    expect(at(0.3)).toBeCloseTo(0.7 * at(0) + 0.3 * at(1), 12);
  });

  it('shift what the strobe reads by the baseline, more at a higher rate, and not at all when DC coupled', () => {
    const value = (design: Design): number => simulate(design, { estimateError: false }).strobe.value;
    const before = coupled();
    const after = coupled({ inhibitedShare: 1 });
    const shift = simulate(after, { estimateError: false }).baseline!;
    expect(Math.abs(value(before) - value(after) - shift)).toBeLessThan(0.05 * Math.abs(shift));
    const slow = simulate(coupled({ inhibitedShare: 1 }, '40 us'), { estimateError: false }).baseline!;
    expect(Math.abs(slow)).toBeLessThan(Math.abs(shift) / 4);
    const direct = mat({ cycle: { inhibitedShare: 1 } });
    expect(value(direct)).toBe(value(mat()));
    expect(simulate(direct, { estimateError: false }).baseline).toBeUndefined();
  });

  // Derived: before limit and rectification all is linear in the share, so the worst lies at an end; there it is what a run says.
  it('are worst at an end of the duty, for ONE and ZERO, as full runs of either say', () => {
    const { points, worst } = dutyReport(coupled(), simulate);
    const value = (bit: 0 | 1, inhibitedShare: number): number =>
      simulate(
        { ...coupled({ inhibitedShare }), selected: { row: 3, column: 4, bit } },
        { estimateError: false, contributions: false },
      ).strobe.value;
    expect(points.map(({ inhibitedShare }) => inhibitedShare)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    const [first, , middle, , last] = points;
    expect(middle!.one).toBeCloseTo((first!.one + last!.one) / 2, 9);
    expect(Math.abs(first!.one - last!.one)).toBeGreaterThan(0.05e-3);
    expect(worst!.one.one).toBe(Math.min(...points.map((point) => point.one)));
    expect(worst!.zero.zero).toBe(Math.max(...points.map((point) => point.zero)));
    for (const end of [0, 1]) expect(worst!.one.one).toBeLessThanOrEqual(value(1, end) + 1e-9);
    expect(value(1, worst!.one.inhibitedShare)).toBeCloseTo(worst!.one.one, 9);
    expect(value(0, worst!.zero.inhibitedShare)).toBeCloseTo(worst!.zero.zero, 9);
    // The baseline goes against a read's own sign: what lowers the ONE lowers the ZERO.
    expect(worst!.one.inhibitedShare).not.toBe(worst!.zero.inhibitedShare);
    expect([0, 1]).toContain(worst!.one.inhibitedShare);
  });

  it('are searched between the ends where a rectifying amplifier takes the ONE through nothing, and left out when DC coupled', () => {
    const output = (inhibitedShare: number): Float64Array =>
      simulate(coupled({ inhibitedShare }), { estimateError: false }).amplifierOutput;
    const [none, all] = [output(0), output(1)];
    const k = none.findIndex(
      (value, i) => i > 150 && value * all[i]! < 0 && Math.abs(value + all[i]!) < Math.abs(value) / 2,
    );
    expect(k).toBeGreaterThan(150);
    const { numerics, detector } = coupled();
    const design = coupled();
    const at: Design = {
      ...design,
      amplifier: { ...design.amplifier, polarity: 'either' },
      strobe: { ...design.strobe, time: k * numerics.output + detector.delay },
    };
    const { points, worst } = dutyReport(at, simulate);
    const ends = Math.min(points[0]!.one, points[4]!.one);
    expect(worst!.one.one).toBeLessThan(0.02 * ends);
    expect(worst!.one.inhibitedShare).toBeGreaterThan(0.2);
    expect(worst!.one.inhibitedShare).toBeLessThan(0.8);
    expect(dutyReport(mat(), simulate)).toEqual({ points: [], worst: undefined });
  });

  it('reach the strobe window', () => {
    const least = (design: Design): number => {
      const found = strobeWindow(design, { cases: 'quick' });
      return found.margin.one + found.inForce.threshold;
    };
    const shift = simulate(coupled({ inhibitedShare: 1 }), { estimateError: false }).baseline!;
    const moved = least(coupled()) - least(coupled({ inhibitedShare: 1 }));
    expect(Math.abs(moved - shift)).toBeLessThan(0.1 * Math.abs(shift));
  });
});

describe('the cycle before, through the amplifier', () => {
  it('still holds the output at its limit when the next strobe comes before overload recovery is over', () => {
    const read = (recovery: string, period: string): number => {
      const design = mat({
        amplifier: { outputLimit: '12 V', recovery, polarity: 'address', inputClamp: 'none' },
        cycle: { period },
        selected: { row: 3, column: 4, bit: 0 },
      });
      const before: Cycle = { row: 5, column: 6, lines: 'both', read: true, write: 'zero' };
      const observed: Cycle = { row: 3, column: 4, lines: 'both', read: true, write: 'restore' };
      return simulate(
        { ...design, programme: [before, observed] },
        { contributions: false, estimateError: false },
      ).strobe.value;
    };
    const limit = 12 / 20;
    expect(Math.abs(read('600 ns', '1.7 us'))).toBeCloseTo(limit, 6);
    expect(Math.abs(read('600 ns', '4 us'))).toBeLessThan(limit / 5);
    expect(Math.abs(read('0 ns', '1.7 us'))).toBeLessThan(limit / 5);
  });
});

describe('detector and strobe act through simulate and window', () => {
  const bit = (raw: object): 0 | 1 => simulate(mat(raw), { estimateError: false }).strobe.bit;

  it('a falling threshold is lower at the strobe by slope times time', () => {
    const steady = simulate(mat({ detector: { threshold: '50 mV', delay: '0 ns' } }), {
      estimateError: false,
    });
    const falling = simulate(mat({ detector: { threshold: '50 mV', delay: '0 ns', slope: '-0.2 mV/ns' } }), {
      estimateError: false,
    });
    expect(steady.strobe.threshold - falling.strobe.threshold).toBeCloseTo(0.2e6 * 130e-9, 9);
    expect(steady.strobe.bit).toBe(0);
    expect(falling.strobe.bit).toBe(1);
  });

  it('hysteresis raises what a ONE must reach; a wider aperture still hears a ONE that is over', () => {
    const value = simulate(mat(), { estimateError: false }).strobe.value * 1e3;
    const threshold = `${value - 1} mV`;
    const strobe = { time: '130 ns', aperture: '0 ns' };
    expect(bit({ detector: { threshold, hysteresis: '0 mV' }, strobe })).toBe(1);
    expect(bit({ detector: { threshold: `${value + 8} mV`, hysteresis: '0 mV' }, strobe })).toBe(0);
    expect(
      bit({
        detector: { threshold: '15 mV', hysteresis: '0 mV' },
        strobe: { time: '330 ns', aperture: '0 ns' },
      }),
    ).toBe(0);
    expect(
      bit({
        detector: { threshold: '15 mV', hysteresis: '0 mV' },
        strobe: { time: '330 ns', aperture: '420 ns' },
      }),
    ).toBe(1);
  });

  it('a falling threshold opens the window to an otherwise lost ONE', () => {
    const raw = { threshold: '60 mV', delay: '0 ns', uncertainty: '1 mV' };
    const design = (slope: string): Design =>
      mat({ mat: { rows: 8, columns: 8 }, detector: { ...raw, slope }, strobe: { time: 'best' } });
    expect(strobeWindow(design('0 V/s'), { cases: 'quick' }).strobe).toBeUndefined();
    expect(strobeWindow(design('-0.25 mV/ns'), { cases: 'quick' }).strobe).toBeDefined();
  });
});
