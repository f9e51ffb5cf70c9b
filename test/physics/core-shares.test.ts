import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { wirePath } from '../../engine/mat/winding.ts';
import { simulate } from '../../engine/simulate/simulate.ts';

/**
 * What each core gives, against three independent routes: the linkages of the wire's sections, the terminal
 * voltage of a wire that has nothing but cores, and the recorded flux of the selected core.
 */
const demo = (name: string): Design =>
  checkDesign(JSON.parse(readFileSync(`fixtures/designs/${name}.json`, 'utf8')));

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);
const largest = (values: Float64Array): number =>
  values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const every = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));

describe('what each core gives', () => {
  it.each([
    'classroom-board-first-try-4x4',
    'common-practice-8x8',
    'tide-recorder-16x16',
    'tide-recorder-first-try-32x32',
  ])(
    'sums over the cores of %s to what the sections of the wire link, whatever part each core has in two of them',
    (name) => {
      const design = demo(name);
      const run = simulate(design, { estimateError: false, sharesAt: every(5e-9, design.cycle.period, 60) });
      const peak = Math.max(...run.shares!.map(({ total }) => Math.abs(total)));
      expect(peak).toBeGreaterThan(1e-3);
      // The sections hold the linkages that the solved step demanded; cores are taken at the currents it found.
      for (const { emf, total } of run.shares!) expect(Math.abs(sum(emf) - total)).toBeLessThan(2e-3 * peak);
    },
  );

  it('sums to the voltage between the ends of an open wire that is only cores', () => {
    const base = demo('classroom-board-first-try-4x4');
    const design: Design = {
      ...base,
      winding: { ...base.winding, kind: 'separate-diagonal' },
      wire: {
        ...base.wire,
        resistancePerCore: 0,
        inductancePerCore: 1e-12,
        capacitancePerCore: 1e-18,
        mutualX: 0,
        mutualY: 0,
        couplingCapacitance: 0,
        lossTime: 0,
      },
      terminations: { ...base.terminations, a: Infinity, b: Infinity },
      amplifier: { ...base.amplifier, inputResistance: 1e9 },
    };
    // Away from the corners of the drive, so that the mean over a step is its middle.
    const instants = every(150e-9, 1.9e-6, 40);
    const run = simulate(design, { estimateError: false, sharesAt: instants });
    const peak = largest(run.senseVoltage);
    expect(peak).toBeGreaterThan(0.02);
    for (const { time, emf } of run.shares!) {
      const i = Math.round(time / design.numerics.output);
      expect(Math.abs(sum(emf) - run.senseVoltage[i]!)).toBeLessThan(0.01 * peak);
    }
  });

  it('gives the selected core the rate of its own recorded flux, with the sign of its polarity', () => {
    for (const name of ['classroom-board-first-try-4x4', 'tide-recorder-first-try-32x32']) {
      const design = demo(name);
      const { output } = design.numerics;
      const instants = every(0.2 * design.cycle.readWidth, 0.9 * design.cycle.readWidth, 30);
      const run = simulate(design, { estimateError: false, sharesAt: instants });
      const index = design.selected.row * design.mat.columns + design.selected.column;
      const polarity = wirePath(design).polarity[index]!;
      const { flux } = run.selected;
      const rates = run.shares!.map(({ time }) => {
        const i = Math.round(time / output);
        return (-polarity * (flux[i + 3]! - flux[i - 3]!)) / (6 * output);
      });
      const peak = Math.max(...rates.map(Math.abs));
      expect(peak).toBeGreaterThan(5e-3);
      run.shares!.forEach(({ emf }, i) =>
        expect(Math.abs(emf[index]! - rates[i]!)).toBeLessThan(0.03 * peak),
      );
    }
  });

  it('gives nothing to a missing core, the opposite to one threaded backwards, and costs nothing when not asked for', () => {
    const base = demo('classroom-board-first-try-4x4');
    const at = { row: 1, column: 0 };
    const fault = { thresholdFactor: 1, fluxFactor: 1, elasticFactor: 1, bias: 0 };
    const shares = (exceptions: Design['exceptions']): number =>
      simulate({ ...base, exceptions }, { estimateError: false, sharesAt: [60e-9] }).shares![0]!.emf[4]!;
    const sound = shares([]);
    expect(Math.abs(sound)).toBeGreaterThan(1e-4);
    expect(shares([{ ...fault, ...at, missing: true, reversed: false }])).toBe(0);
    const backwards = shares([{ ...fault, ...at, missing: false, reversed: true }]);
    expect(backwards / sound).toBeLessThan(-0.9);
    expect(simulate(base, { estimateError: false }).shares).toBeUndefined();
  });

  it('tells the instants in the order asked for, past the end the last step', () => {
    const design = demo('classroom-board-first-try-4x4');
    const run = simulate(design, { estimateError: false, until: 1e-6, sharesAt: [500e-9, 100e-9, 1] });
    expect(run.shares!.map(({ time }) => Math.round(time * 1e9))).toEqual([500, 100, 1000]);
  });
});
