/**
 * Relations that hold for every design, on random ones. Pairs of independent routes: a wire threaded from either end;
 * a cycle with and without an idle one before it; a write sooner and later; a balanced winding against an unbalanced
 * one; every account of a run against zero. The soak does the same on hundreds and thousands of designs.
 */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyDesign } from '../random-design.ts';
import {
  account,
  balancedCancels,
  idleCycleBefore,
  laterWrite,
  negatedPolarity,
  reversedWinding,
} from './relation-checks.ts';

const check = (numRuns: number, holds: (seed: number) => void): void =>
  fc.assert(
    fc.property(fc.noShrink(fc.nat({ max: 1e9 })), (seed) => {
      holds(seed);
    }),
    { numRuns, seed: 1965, endOnFailure: true },
  );

describe('on random designs', () => {
  // Derived (N6).
  it('a wire threaded from its other end gives the negative signal', () => {
    check(4, (seed) => expect(reversedWinding(seed)).toBeLessThan(1e-8));
  });

  it('every polarity negated gives the negative signal', () => {
    check(4, (seed) => expect(negatedPolarity(seed)).toBeLessThan(1e-10));
  });

  it('an idle cycle before the observed one changes nothing', () => {
    check(5, (seed) => expect(idleCycleBefore(seed)).toBeLessThan(1e-8));
  });

  it('a later write gives the same answer later, within the error that the run reports', () => {
    check(8, (seed) => expect(laterWrite(seed)).toBeLessThan(1));
  });

  it('a balanced winding of like cores cancels what an unbalanced one adds up', () => {
    check(5, (seed) => expect(balancedCancels(seed)).toBeLessThan(1e-4));
  });

  // N5, N10 and the books. Each design is drawn at random, odd ones among them: lossless wires, clamps, tight edges.
  it('ends finite or with a name, its causes sum to the whole, and its energy closes', () => {
    const energies: number[] = [];
    const closures: number[] = [];
    fc.assert(
      fc.property(anyDesign({ largest: 6 }), (design) => {
        const { finite, split, energy, closure } = account(design);
        expect(finite, design.name).toBe(true);
        expect(split, design.name).toBeLessThan(1e-9);
        energies.push(energy);
        closures.push(closure);
      }),
      { numRuns: 60, seed: 1968, endOnFailure: true },
    );
    // The target is a thousandth on every one; where an edge is hardly longer than the ferrite's lag, and where the
    // ideal switch of a voltage source opens, the default step leaves up to five.
    for (const left of [energies, closures]) {
      expect(left.filter((e) => e <= 1e-3).length / left.length).toBeGreaterThanOrEqual(0.95);
      expect(Math.max(...left)).toBeLessThan(5e-3);
    }
  });
});
