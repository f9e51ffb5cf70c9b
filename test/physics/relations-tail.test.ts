/**
 * What an earlier cycle leaves on the wire. Independent route: the earlier cycle alone, followed past its end, against
 * what stands at the start of the cycle after it.
 */
import { describe, expect, it } from 'vitest';
import { CONTRIBUTIONS } from '../../engine/network/causes.ts';
import { ns, run, type File } from './bench-designs.ts';

const PERIOD = 1620;
/** Ends of one ohm: what flows at the end of a write dies over tens of nanoseconds. Every bit is written as a ONE. */
const file: File = {
  stored: { kind: 'ones' },
  terminations: { a: '1 ohm', b: '1 ohm' },
  wire: { inductancePerCore: '20 nH' },
};

describe('the tail of an earlier cycle', () => {
  it.each([
    ['the same address', 2, 3],
    ['another address', 5, 6],
  ])('of %s is told by its own causes: those that it had in that cycle, and no inhibit', (_, row, column) => {
    const address = { row: 2, column: 3 };
    const earlier = { row, column };
    const two = run({
      ...file,
      selected: { ...address, bit: 1 },
      cycle: { period: `${PERIOD} ns` },
      programme: [
        { ...earlier, write: 'one' },
        { ...address, write: 'one' },
      ],
    });
    const alone = run({
      ...file,
      selected: { ...earlier, bit: 1 },
      cycle: { period: `${2 * PERIOD} ns` },
      programme: [{ ...earlier, write: 'one' }],
    });
    const at = alone.time.findIndex((t) => Math.abs(t - PERIOD * ns) < 1e-12);
    const tail = two.senseVoltage[0]!;
    expect(Math.abs(tail)).toBeGreaterThan(1e-3);
    for (const cause of CONTRIBUTIONS)
      expect(Math.abs(two.contributions![cause][0]! - alone.contributions![cause][at]!), cause).toBeLessThan(
        0.01 * Math.abs(tail),
      );
    expect(Math.max(...two.contributions!.inhibit.map(Math.abs))).toBeLessThan(1e-3 * Math.abs(tail));
  });
});
