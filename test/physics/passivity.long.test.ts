/**
 * No design gives energy out of a closed loop: when cores, wires and lines end a cycle as they began it, sources have
 * given energy, and every part has taken some. Derived (the second law); random designs, invented throughout.
 */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectPassive } from './passive.ts';
import { anyDesign } from '../random-design.ts';

describe('passivity', () => {
  it('holds for any design over a cycle that closes: work in, heat and loops positive, nothing stored', () => {
    const runs = 25;
    let loops = 0;
    fc.assert(
      fc.property(anyDesign({ largest: 4, lossless: false }), (d) => {
        if (expectPassive(d)) loops++;
      }),
      { numRuns: runs },
    );
    expect(loops).toBeGreaterThan(runs / 3);
  });
});
