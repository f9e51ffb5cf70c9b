import { describe, expect, test } from 'vitest';
import { checkDesign, simulate } from '../../engine/index.ts';
import type { Json } from '../../engine/base/json-patch.ts';
import { BOARD, capture } from './builds.ts';
import { captureCsv, recordTrace } from './instrument.ts';
import { runTruth } from './memory.ts';
import { truthOf } from './truth.ts';

const designOf = (rows: number, bit: 0 | 1, more: { [key: string]: Json } = {}) =>
  checkDesign({
    core: { preset: 'ferrite-20-mil' },
    mat: { rows, columns: rows },
    winding: { kind: 'shared-one-run' },
    wire: { couplingCapacitance: '0 pF' },
    cycle: { period: '2.2 us', readWidth: '450 ns', gap: '350 ns', writeWidth: '450 ns' },
    stored: { kind: 'checkerboard' },
    selected: { row: rows > 1 ? 1 : 0, column: rows > 2 ? 2 : 0, bit },
    ...more,
  });

const rms = (a: Float64Array, b: (i: number) => number): number =>
  Math.sqrt(a.reduce((sum, v, i) => sum + (v - b(i)) ** 2, 0) / a.length);
const peak = (a: Float64Array): number => a.reduce((most, v) => Math.max(most, Math.abs(v)), 0);

/** The integrator that stands for the outside world: nothing it rests on is the engine's. */
describe('the independent integrator', () => {
  test('converges to its own truth as its step is halved, with the order of its formula', () => {
    // Edges without a kink, so that the order of the formula shows.
    const smooth = { edge: { kind: 'raised-cosine' } };
    const truth = truthOf(designOf(4, 1, { drive: { x: smooth, y: smooth } }));
    const [coarse, middle, fine] = [1e-9, 0.5e-9, 0.25e-9].map((step) =>
      runTruth(truth, { step, until: 700e-9 }),
    );
    const [first, second] = [
      rms(coarse!.sense, (i) => middle!.sense[2 * i]!),
      rms(middle!.sense, (i) => fine!.sense[2 * i]!),
    ];
    expect(first / second).toBeGreaterThan(3);
    expect(second).toBeLessThan(0.002 * peak(fine!.sense));
  });

  test('gives the voltage whose integral is the change of linkage of the one core of a jig', () => {
    const truth = truthOf(
      designOf(1, 1, {
        wire: {
          couplingCapacitance: '0 pF',
          mutualX: '0 H',
          mutualY: '0 H',
          inductancePerCore: '1 pH',
          capacitancePerCore: '0.1 fF',
          resistancePerCore: '0 ohm',
        },
        terminations: { a: '1 Mohm', b: '1 Mohm' },
        amplifier: { inputResistance: '10 Mohm' },
      }),
    );
    for (const departure of [0, 0.3, -0.3]) {
      const cores = truth.cores.map((c) => ({ ...c, law: { ...c.law, skew: departure } }));
      const run = runTruth({ ...truth, cores }, { until: 600e-9 });
      const area = run.sense.reduce((sum, v) => sum + v * run.step, 0);
      expect(area / (run.linkage[0] - run.linkage[1])).toBeCloseTo(1, 2);
    }
  });

  test('agrees with the engine where the laws of the cores are the same, and not where they are not', () => {
    const winding = { kind: 'shared-two-halves' };
    for (const [rows, bit, more] of [
      [4, 0, { winding }],
      [2, 1, {}],
    ] as const) {
      const design = designOf(rows, bit, more);
      const run = simulate(design, { contributions: false, estimateError: false });
      const against = (departure: Parameters<typeof truthOf>[1]) => {
        const own = runTruth(truthOf(design, departure));
        return rms(run.senseVoltage, (i) => own.sense[Math.round(run.time[i]! / own.step)]!);
      };
      expect(against({})).toBeLessThan(2e-4 * peak(run.senseVoltage));
      if (bit === 0) continue;
      expect(against({ skew: 0.3 })).toBeGreaterThan(5e-3 * peak(run.senseVoltage));
      expect(against({ spread: 0.06 })).toBeGreaterThan(1e-3 * peak(run.senseVoltage));
      expect(against({ knee: 'other' })).toBeGreaterThan(1e-3 * peak(run.senseVoltage));
    }
  });

  test('a build is recorded by an instrument, and what the integrator does not know is refused', () => {
    const read = (bit: 0 | 1) =>
      capture(BOARD, [{ path: '/selected/bit', value: bit }], {
        until: 500e-9,
        instrument: { delay: 1e-6, noise: 0 },
      });
    const [zero, one] = [read(0), read(1)];
    const difference = one.value.map((v, i) => v - zero.value[i]!);
    const at = one.time[difference.indexOf(Math.max(...difference))]!;
    expect(at).toBeGreaterThan(1.1e-6);
    expect(at).toBeLessThan(1.3e-6);
    const coupled = [{ path: '/wire/couplingCapacitance', value: '5 pF' }];
    expect(() => capture(BOARD, coupled)).toThrow('coupling between wires');
  });

  test('an instrument changes what it is set to change, and the file reads back', () => {
    const trace = Float64Array.from({ length: 2000 }, (_, i) => Math.sin(i / 100));
    const seen = recordTrace(trace, 1e-9, { probe: 0.1, offset: 0.5, step: 0.01, interval: 4e-9 });
    expect(seen.value[200]).toBeCloseTo(0.5 + 0.1 * trace[Math.round(seen.time[200]! * 1e9)]!, 1);
    expect(captureCsv(seen.time, { 'sense [V]': seen.value }).split('\n')[0]).toBe('time [ns],sense [V]');
  });
});
