import { describe, expect, it } from 'vitest';
import {
  balanceOf,
  countHalfSelected,
  halfSelectCounts,
  halfSelectExtremes,
  halfSelectSum,
  halfSelectedInSegment,
} from '../../engine/mat/half-select-law.ts';
import { polarityOf, wirePath } from '../../engine/mat/winding.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Mat, Winding, WindingKind } from '../../engine/design/mat.ts';

/**
 * Independent routes: closed counts against counting the actual winding, and extremes against every one of the
 * stored patterns. Whole numbers throughout (voltages in tenths of a millivolt), so equality is exact.
 */

const KINDS: readonly WindingKind[] = [
  'shared-one-run',
  'shared-two-halves',
  'separate-diagonal',
  'separate-rectangular',
];
const mat = (rows: number, columns: number): Mat => ({
  rows,
  columns,
  mats: 1,
  otherOnes: 0,
  pitch: 1e-3,
  spacing: 6e-3,
  leads: { length: 0.1, distance: 2e-3, mutual: 0 },
});
const winding = (kind: WindingKind): Winding => ({ kind, segments: 1 });
const LARGE = 12;
const SMALL = 10;

/** Signed sums of all 2^k patterns of the half-selected cores. */
function sums(kind: WindingKind, rows: number, columns: number, row: number, column: number): number[] {
  const polarity = polarityOf(mat(rows, columns), winding(kind));
  const half: number[] = [];
  for (let i = 0; i < rows * columns; i++) {
    const [r, c] = [Math.floor(i / columns), i % columns];
    if ((r === row) !== (c === column)) half.push(i);
  }
  return Array.from({ length: 2 ** half.length }, (_, code) => {
    const bits = new Uint8Array(rows * columns);
    half.forEach((core, k) => (bits[core] = (code >> k) & 1));
    return halfSelectSum(polarity, bits, mat(rows, columns), { row, column }, LARGE, SMALL);
  });
}

/** The pattern with the greatest sum for this winding at this address. */
function worstBits(kind: WindingKind, n: number, row: number, column: number): Uint8Array {
  const polarity = polarityOf(mat(n, n), winding(kind));
  return Uint8Array.from(polarity, (s) => (s === polarity[row * n + column] ? 1 : 0));
}

describe('half-select sums', () => {
  // P1: derived; the counts 7 and 63 per line agree with US 3,646,531 (as reported by a digest).
  it.each([
    [8, 14, 7],
    [32, 62, 31],
    [64, 126, 63],
  ])(
    'a %i square has %i half-selected cores and a half-spread of %i differences for any winding',
    (n, half, spread) => {
      for (const kind of KINDS) {
        const counts = countHalfSelected(polarityOf(mat(n, n), winding(kind)), mat(n, n), {
          row: 1,
          column: n - 2,
        });
        expect(counts.same + counts.opposite).toBe(half);
        expect(halfSelectExtremes(counts, LARGE, SMALL).halfSpread).toBe(spread * (LARGE - SMALL));
      }
    },
  );

  // P2: derived.
  it('a 64 square balanced on rows and columns with 1.2 and 1.0 mV reaches +10.4 and -14.8 mV', () => {
    const { high, low } = halfSelectExtremes(halfSelectCounts('rows-and-columns', 64, 64), LARGE, SMALL);
    expect([high, low]).toEqual([104, -148]);
    const volts = halfSelectExtremes(halfSelectCounts('rows-and-columns', 64, 64), 1.2, 1.0);
    expect(Math.abs(volts.high - 10.4)).toBeLessThan(1e-9);
    expect(Math.abs(volts.low + 14.8)).toBeLessThan(1e-9);
  });

  // P3: derived.
  it('a 64 square balanced on rows only reaches +80.8 and +55.6 mV', () => {
    const { high, low } = halfSelectExtremes(halfSelectCounts('rows-only', 64, 64), LARGE, SMALL);
    expect([high, low]).toEqual([808, 556]);
    const stripes = Int8Array.from({ length: 64 * 64 }, (_, i) => (i % 2 === 0 ? 1 : -1));
    expect(countHalfSelected(stripes, mat(64, 64), { row: 5, column: 9 })).toEqual({
      same: 94,
      opposite: 32,
    });
  });

  it('a winding in one run adds every half-selected core', () => {
    expect(halfSelectExtremes(halfSelectCounts('none', 8, 8), LARGE, SMALL)).toEqual({
      high: 168,
      low: 140,
      halfSpread: 14,
    });
  });

  it('the closed counts are those of the actual windings at every address, square and not', () => {
    for (const kind of KINDS) {
      for (const [rows, columns] of [
        [4, 4],
        [8, 8],
        [4, 12],
      ] as const) {
        const polarity = polarityOf(mat(rows, columns), winding(kind));
        const closed = halfSelectCounts(balanceOf(kind)!, rows, columns);
        for (let row = 0; row < rows; row++)
          for (let column = 0; column < columns; column++)
            expect(countHalfSelected(polarity, mat(rows, columns), { row, column })).toEqual(closed);
      }
    }
  });

  it('the extremes are the greatest and the least over all stored patterns', () => {
    for (const kind of KINDS) {
      const all = sums(kind, 4, 6, 1, 4);
      const { high, low } = halfSelectExtremes(halfSelectCounts(balanceOf(kind)!, 4, 6), LARGE, SMALL);
      expect(Math.max(...all)).toBe(high);
      expect(Math.min(...all)).toBe(low);
    }
  });

  // P4: MIT memo M-2919 (1954, abstract read) and derived.
  it('two balanced windings have the same half-spread but different worst patterns, neither worse on the other', () => {
    const n = 8;
    const at = { row: 2, column: 3 };
    const kinds = KINDS.filter((kind) => balanceOf(kind) === 'rows-and-columns');
    expect(kinds.length).toBe(3);
    const { high } = halfSelectExtremes(halfSelectCounts('rows-and-columns', n, n), LARGE, SMALL);
    for (const own of kinds) {
      for (const other of kinds) {
        const bits = worstBits(other, n, at.row, at.column);
        const sum = halfSelectSum(polarityOf(mat(n, n), winding(own)), bits, mat(n, n), at, LARGE, SMALL);
        if (own === other) expect(sum).toBe(high);
        else {
          expect(bits).not.toEqual(worstBits(own, n, at.row, at.column));
          expect(sum).toBeLessThan(high);
        }
      }
    }
  });

  // P9: derived.
  it('an 8K winding cut into four 64 by 32 segments hears 94 half-selected cores against 190 of a 64 by 128 plane', () => {
    const selected = { row: 10, column: 70, bit: 1 };
    for (const [segments, expected] of [
      [4, 94],
      [1, 190],
    ] as const) {
      const design = {
        mat: mat(64, 128),
        winding: { kind: 'shared-one-run', segments },
        selected,
        exceptions: [],
      } as unknown as Design;
      const heard = Array.from(wirePath(design).order, (core) => [Math.floor(core / 128), core % 128]);
      expect(heard.filter(([r, c]) => (r === selected.row) !== (c === selected.column)).length).toBe(
        expected,
      );
      expect(halfSelectedInSegment(64, 128 / segments)).toBe(expected);
    }
  });
});
