import { describe, expect, test } from 'vitest';
import { applyPatches } from '../../../engine/base/json-patch.ts';
import { judgeJig } from '../../../engine/fitting/judge/judge-jig.ts';
import { capture } from '../../independent/builds.ts';
import type { Instrument } from '../../independent/instrument.ts';
import { JIG } from '../../physics/fit-helpers.ts';

/** s on the capture's own time at which the drive's rise starts, and how long it takes. */
const START = 1.3e-6;
const RISE = 50e-9;
/** No lines beside the sense wire. */
const ALONE = ['mutualX', 'mutualY', 'couplingCapacitance'].map((field) => ({
  path: `/wire/${field}`,
  value: field.startsWith('mutual') ? '0 H' : '0 F',
}));
/** One core alone, by the independent integrator; it is read from the start of the cycle on. */
const taken = (bit: 0 | 1, instrument: Instrument = {}) =>
  capture(applyPatches(JIG, [...ALONE, { path: '/selected/bit', value: bit }]), [], {
    until: 400e-9,
    instrument: { noise: 0.3e-3, step: 0.2e-3, delay: START, ...instrument },
  });
const codesOf = (trace: ReturnType<typeof taken>, start = START, bit: 0 | 1 = 1): string[] =>
  judgeJig(trace, { bit, edge: { start, rise: RISE } }).findings.map(({ code }) => code);

describe('a capture of one core', () => {
  test.each([0, 1] as const)('of a %d with its edge where it is said to be: nothing is doubted', (bit) => {
    for (const index of [1, 2, 3]) {
      expect(codesOf(taken(bit, { index }), START, bit)).toEqual([]);
      expect(codesOf(taken(bit, { index, bandwidth: 100e6 }), START, bit)).toEqual([]);
    }
  });

  test.each([-60e-9, -40e-9, 20e-9, 60e-9])('with its edge stated %d s off: that is suspected', (off) => {
    for (const index of [1, 2, 3]) expect(codesOf(taken(1, { index }), START + off)).toEqual(['edge']);
  });

  test('that is clipped is not usable, and a rounded top in coarse steps is not taken for that', () => {
    const clipped = judgeJig(taken(1, { noise: 0, clip: 0.03 }), { bit: 1 });
    expect(clipped.verdict).toBe('not usable');
    expect(clipped.findings.map(({ code }) => code)).toContain('clipped');
    for (const step of [0.5e-3, 1e-3]) expect(codesOf(taken(1, { noise: 0, step }))).not.toContain('clipped');
  });

  test('of two levels, or in which nothing happens, is told', () => {
    const { time, value } = taken(1);
    const logic = { time, value: value.map((v, i) => (v > 0.02 ? 3.3 : 0) + 0.01 * Math.sin(i * 7.3)) };
    expect(judgeJig(logic, { bit: 1 }).verdict).toBe('not usable');
    expect(codesOf({ time, value: value.map(() => 0.1) })).toEqual(['flat']);
  });
});
