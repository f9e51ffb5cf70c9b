import { assert, double, property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { passingInterval, scanLine } from '../../../engine/studies/shared/trace-edge.ts';

/** Against lines whose passing stretch is known. */
describe('edges along a line', () => {
  const between = (low: number, high: number) => (x: number) => ({
    pass: x >= low && x <= high,
    margin: null,
  });

  it('both edges of a stretch are found within what is promised, wherever it lies', () => {
    assert(
      property(
        double({ min: 0.02, max: 0.7, noNaN: true }),
        double({ min: 0.22, max: 0.28, noNaN: true }),
        (start, length) => {
          const { edges } = scanLine(0, 1, 6, 1 / 256, between(start, start + length));
          expect(edges.map((edge) => edge.side)).toEqual([1, -1]);
          expect(Math.abs(edges[0]!.x - start)).toBeLessThanOrEqual(edges[0]!.within + 1e-12);
          expect(Math.abs(edges[1]!.x - start - length)).toBeLessThanOrEqual(edges[1]!.within + 1e-12);
          expect(edges[0]!.within).toBeLessThanOrEqual(1 / 512);
        },
      ),
    );
  });

  it('an edge costs the logarithm of its sharpness, not a grid', () => {
    const { samples } = scanLine(0, 1, 5, 1 / 1024, between(0.3, 2));
    expect(samples.length).toBe(5 + 8);
  });

  it('a line that passes or fails throughout has no edge', () => {
    expect(scanLine(0, 1, 5, 0.01, between(-1, 2)).edges).toEqual([]);
    expect(scanLine(0, 1, 5, 0.01, between(2, 3)).edges).toEqual([]);
  });

  it('walking out from the nominal finds both ends of the passing stretch, also far from the middle', () => {
    assert(
      property(double({ min: 0.05, max: 0.95, noNaN: true }), (start) => {
        const found = passingInterval(start, 0, 1, 1 / 512, between(start - 0.03, start + 0.02));
        expect(Math.abs(found!.low!.x - (start - 0.03))).toBeLessThanOrEqual(1 / 1024 + 1e-12);
        expect(Math.abs(found!.high!.x - (start + 0.02))).toBeLessThanOrEqual(1 / 1024 + 1e-12);
      }),
    );
  });

  it('an end is left open where it passes to the limit, and a nominal that fails has no stretch', () => {
    expect(passingInterval(0.5, 0, 1, 0.01, between(-1, 0.7))).toMatchObject({
      low: undefined,
      high: { side: -1 },
    });
    expect(passingInterval(0.5, 0, 1, 0.01, between(0.6, 0.7))).toBeUndefined();
  });
});
