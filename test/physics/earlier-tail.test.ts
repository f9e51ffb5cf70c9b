/**
 * What earlier cycles leave on the wire belongs to its own causes. Truths from outside the split: superposition on a wire of
 * fixed inductors, and a programme in which no inhibit ever fires.
 */
import { describe, expect, it } from 'vitest';
import { CONTRIBUTIONS } from '../../engine/network/causes.ts';
import { drives, inductor, run, type File } from './bench-designs.ts';
import { difference, greatest, splitError } from './trace-tools.ts';

/** Cycles that follow on one another while a wire with open ends still rings. */
const cycles = (programme: readonly object[], more: File = {}): File => ({
  mat: { rows: 8, columns: 8 },
  drive: drives('350 mA', '30 ns'),
  cycle: { readWidth: '200 ns', gap: '100 ns', writeWidth: '200 ns', period: '590 ns' },
  terminations: { a: 'open', b: 'open' },
  amplifier: { inputResistance: '100 kohm' },
  wire: { lossTime: '0.2 ns', capacitancePerCore: '20 pF' },
  programme,
  selected: { row: 1, column: 2 },
  ...more,
});

/** The first 100 ns of the last cycle. */
const start = (file: File) => run(file, { until: 100e-9, balance: false });

const read = { row: 1, column: 2, write: 'one' };

describe('the tail of an earlier cycle', () => {
  it('holds no inhibit where none fires', () => {
    const before = { row: 3, column: 0, write: 'one' };
    const { senseVoltage, contributions, ...rest } = start(cycles([before, read]));
    const peak = Math.abs(greatest(senseVoltage));
    // There is a tail to be told apart.
    expect(Math.abs(senseVoltage[0]!)).toBeGreaterThan(1e-3 * peak);
    // Cores on no driven line answer the wire's current not quite in proportion: that counts as inhibit too.
    expect(Math.abs(greatest(contributions!.inhibit))).toBeLessThan(2e-5 * peak);
    expect(splitError({ senseVoltage, contributions, ...rest })).toBeLessThan(1e-9);
  });

  it('gives the inhibit what the inhibit leaves', () => {
    const ran = (amplitude: string) => {
      const inhibit = { amplitude, rise: '30 ns', fall: '30 ns' };
      const drive = { ...drives('350 mA', '30 ns'), inhibit };
      const before = { row: 3, column: 0, write: 'zero' };
      return start(cycles([before, read], { core: inductor('1 nH'), drive }));
    };
    const whole = ran('300 mA');
    const half = ran('150 mA').senseVoltage;
    const left = whole.senseVoltage.map((u, i) => 2 * (u - half[i]!));
    expect(Math.abs(left[0]!)).toBeGreaterThan(1e-4);
    expect(difference(whole.contributions!.inhibit, left)).toBeLessThan(1e-9 * Math.abs(greatest(left)));
  });

  it('gives direct coupling what it leaves', () => {
    const ringing = { lossTime: '0.2 ns', capacitancePerCore: '20 pF' };
    const bare = { ...ringing, mutualX: '0 H', mutualY: '0 H', couplingCapacitance: '0 F' };
    const ran = (wire: object) =>
      start(cycles([{ row: 3, column: 0, write: 'one' }, read], { core: inductor('1 nH'), wire }));
    const coupled = ran(ringing);
    const alone = ran(bare);
    const left = coupled.senseVoltage.map((u, i) => u - alone.senseVoltage[i]!);
    expect(Math.abs(left[0]!)).toBeGreaterThan(1e-4);
    expect(difference(coupled.contributions!.directCoupling, left)).toBeLessThan(
      1e-9 * Math.abs(greatest(coupled.senseVoltage)),
    );
    for (const name of CONTRIBUTIONS.slice(1))
      expect(difference(coupled.contributions![name], alone.contributions![name])).toBeLessThan(1e-9);
  });
});
