/**
 * No design gives energy out of a closed loop: when cores, wires and lines end a cycle as they began it, sources have
 * given energy, and every part has taken some. Derived (the second law); random designs, invented throughout.
 */
import { describe, expect, it } from 'vitest';
import { expectPassive } from './passive.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import { givesWay } from '../../engine/drive/line-voltage.ts';
import { design } from './bench-designs.ts';

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
