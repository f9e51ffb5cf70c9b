import { describe, expect, it } from 'vitest';
import { combinations, organisations } from '../../../engine/propose/combinations.ts';
import { readNeeds } from '../../../engine/propose/needs.ts';
import { capacitorFor, nearestResistor, onGrid, upToGrid } from '../../../engine/propose/rounding.ts';
import { SMALL_NEEDS } from './small-needs.ts';

const { mat: _, ...free } = SMALL_NEEDS;
const needsOf = (change: object) => readNeeds({ ...free, ...change });

describe('combinations that are tried', () => {
  it('hold the words in mats with the fewest lines, even sides, little waste, four to one at most', () => {
    for (const words of [4, 60, 64, 256, 1000, 4096, 16_384]) {
      const found = organisations(needsOf({ words }));
      expect(found.length).toBeGreaterThan(0);
      for (const { rows, columns } of found) {
        expect(rows * columns).toBeGreaterThanOrEqual(words);
        expect([rows % 2, columns % 2]).toEqual([0, 0]);
        expect(columns / rows).toBeLessThanOrEqual(4);
      }
      const lines = found.map(({ rows, columns }) => rows + columns);
      expect(lines).toEqual([...lines].sort((a, b) => a - b));
    }
    expect(organisations(needsOf({ words: 256 }))[0]).toEqual({ rows: 16, columns: 16 });
  });

  it('take a fourth wire, more amplifiers and other cores only where the needs have them', () => {
    const plain = combinations(needsOf({ words: 64, amplifier: { most: 1 } }));
    expect(new Set(plain.map(({ winding }) => winding))).toEqual(
      new Set(['shared-two-halves', 'shared-one-run']),
    );
    expect(plain.every(({ amplifiers, core }) => amplifiers === 1 && core === 0)).toBe(true);
    const all = combinations(
      needsOf({
        words: 64,
        fourthWire: true,
        amplifier: { most: 2 },
        cores: [{ preset: 'ferrite-30-mil' }, { preset: 'ferrite-20-mil' }],
      }),
    );
    expect(new Set(all.map(({ winding }) => winding)).size).toBe(4);
    expect(new Set(all.map(({ core }) => core))).toEqual(new Set([0, 1]));
    expect(new Set(all.map(({ amplifiers }) => amplifiers))).toEqual(new Set([1, 2]));
  });

  it('keep a winding and a number of amplifiers that are kept, and leave out what has too many lines', () => {
    const kept = combinations(
      needsOf({
        words: 64,
        amplifier: { most: 4 },
        keep: { winding: { kind: 'shared-one-run', segments: 2 } },
      }),
    );
    expect(kept.length).toBeGreaterThan(0);
    expect(kept.every(({ winding, amplifiers }) => winding === 'shared-one-run' && amplifiers === 2)).toBe(
      true,
    );
    expect(combinations(needsOf({ words: 64, drivers: { most: 16 } }))).toEqual([]);
    expect(combinations(needsOf({ words: 64, drivers: { most: 17 } })).every(({ rows }) => rows === 8)).toBe(
      true,
    );
  });
});

describe('values that are bought and set', () => {
  it('resistors are the nearest of E24 by ratio, capacitors the next greater of E6 (IEC 60063)', () => {
    expect([97, 105.1, 154, 9.6, 950].map(nearestResistor)).toEqual([100, 110, 150, 10, 910]);
    expect([1e-6, 1.01e-6, 34e-9, 7e-3].map(capacitorFor)).toEqual([1e-6, 1.5e-6, 47e-9, 10e-3]);
  });

  it('times and currents lie on their grid, without the digits of a sum of doubles', () => {
    expect(onGrid(0.1234, 1e-3)).toBe(0.123);
    expect(upToGrid(41e-9, 5e-9)).toBe(45e-9);
    expect(upToGrid(40e-9, 5e-9)).toBe(40e-9);
  });
});
