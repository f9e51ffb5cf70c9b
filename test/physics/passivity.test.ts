/**
 * No design gives energy out of a closed loop: when cores, wires and lines end a cycle as they began it, sources have
 * given energy, and every part has taken some. Derived (the second law); random designs, invented throughout.
 */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import type { Design } from '../../engine/design/design.ts';
import { givesWay } from '../../engine/drive/line-voltage.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { design } from './bench-designs.ts';

/** The same read and restore over and over, the last of which is observed: its states close upon themselves. */
const closed = (d: Design): Design => {
  const { row, column } = d.selected;
  const cycle = { row, column, lines: 'both', read: true, write: 'restore' } as const;
  return { ...d, programme: Array.from({ length: 4 }, () => cycle) };
};

/** A, more than any core here is driven with: what an open loop can hold at most for each weber that it does not close. */
const MOST_DRIVE = 1;

/** Runs the closed cycle and holds its accounts against the second law. @returns whether the addressed core's loop closed */
function expectPassive(d: Design): boolean {
  const { energy, outcome, selected } = simulate(closed(d), { estimateError: false, contributions: false });
  expect(outcome.kind).toBe('done');
  // A core that the drive hardly switches creeps on for many cycles: its loop is open by so much.
  const drift = Math.abs(selected.state.at(-1)! - selected.state[0]!);
  const slack = 1e-3 * energy.delivered + MOST_DRIVE * d.mat.mats * drift;
  expect(energy.source).toBeGreaterThan(-slack);
  expect(energy.resistive).toBeGreaterThanOrEqual(0);
  expect(energy.cores).toBeGreaterThan(-slack);
  expect(Math.abs(energy.stored)).toBeLessThan(1e-3 * energy.delivered);
  return drift < 1e-3 * d.core.parameters.remanentFlux;
}

describe('passivity', () => {
  it('holds for lines behind a voltage, and for sources that meet compliance and clamp', () => {
    const voltage = { source: { kind: 'voltage', voltage: '20 V', resistance: '53 ohm' }, clamp: '5 V' };
    const limited = { compliance: '3 V', clamp: '5 V', inductance: '500 nH' };
    for (const line of [voltage, limited])
      for (const mats of [1, 4]) {
        const d = design({ mat: { rows: 4, columns: 4, mats }, drive: { x: line, y: line } });
        expect(givesWay(d, 'x')).toBe(true);
        expect(expectPassive(d)).toBe(true);
      }
  });

  it('refuses wires that would couple more than wholly where a line could take energy from it', () => {
    const x = { source: { kind: 'voltage', voltage: '20 V', resistance: '53 ohm' }, inductance: '20 nH' };
    const file = (mutualX: string, drive: object = { x }): object => ({
      mat: { rows: 8, columns: 8 },
      winding: { kind: 'shared-one-run' },
      wire: { mutualX, mutualY: '0 H', inductancePerCore: '0.5 nH' },
      drive,
    });
    // Derived: 8 m^2 = 0.5 nH x 20 nH at m = 1.118 nH.
    expect(() => checkDesign(file('1.11 nH'))).not.toThrow();
    expect(() => checkDesign(file('-1.13 nH'))).toThrow(DesignError);
    expect(() => checkDesign(file('1.13 nH'))).toThrow(/at most 1.12 nH to either side/u);
    // A current source holds whatever it must.
    expect(design(file('1.13 nH', {}) as never).wire.mutualX).toBeCloseTo(1.13e-9, 15);
  });
});
