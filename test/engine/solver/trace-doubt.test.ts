/** What samples beside a slope jump miss is told, by traces whose true values are known. */
import { describe, expect, it } from 'vitest';
import { doubtOf } from '../../../engine/solver/trace-doubt.ts';

/** Instants of a slope jump at 10 ns and of the steps after it, s. */
const steps = [0, 5, 10, 10.05, 10.1, 10.15, 10.2, 10.25, 10.3, 10.4, 12, 15].map((t) => t * 1e-9);
const solved = (voltage: (t: number) => number) => ({
  time: Float64Array.from(steps),
  jumps: Uint8Array.from(steps, (t) => (Math.abs(t - 10e-9) < 1e-15 ? 1 : 0)),
  endA: new Float64Array(steps.length),
  endB: Float64Array.from(steps, voltage),
});
const at = (...ns: number[]): Float64Array => Float64Array.from(ns, (t) => t * 1e-9);

describe('beside a slope jump', () => {
  it('tells of a voltage that jumps what a straight line through the first step still misses', () => {
    const jumps = solved((t) => (t > 10.001e-9 ? 1 : 0));
    const [before, there, early, late, after] = doubtOf(jumps, at(9, 10, 10.0125, 10.04, 10.07), 1e-9);
    expect([before, there, after]).toEqual([0, 0, 0]);
    // A quarter and four fifths of the step are gone; the truth is 1, the line is there by as much.
    expect(early).toBeCloseTo(0.75, 6);
    expect(late).toBeCloseTo(0.2, 6);
  });

  it('tells of a spike as high as its step that it may lie anywhere below', () => {
    const spike = solved((t) => (Math.abs(t - 10.05e-9) < 1e-12 ? -5 : 0));
    expect(doubtOf(spike, at(10.04, 10.07), 1e-9).map(Math.round)).toEqual(Float64Array.of(5, 5));
  });

  it('has next to nothing to tell of a smooth rise', () => {
    const rise = solved((t) => (t > 10e-9 ? 1 - Math.exp(-(t - 10e-9) / 2e-9) : 0));
    for (const doubt of doubtOf(rise, at(10.02, 10.07, 10.12), 2e-9)) expect(doubt).toBeLessThan(1e-3);
  });
});

describe('on a wire without loss', () => {
  const ring = (t: number): number => 0.1 * Math.sin((2 * Math.PI * t) / 0.2e-9 + 0.7);

  it('tells the swing of what rings, which a wire with loss does not', () => {
    const ringing = solved(ring);
    expect(doubtOf(ringing, at(10.3), 0)[0]).toBeGreaterThan(0.1);
    expect(doubtOf(ringing, at(10.3), 1e-9)[0]).toBe(0);
  });

  it('has next to nothing to tell of a straight line', () => {
    for (const doubt of doubtOf(
      solved((t) => 1e6 * t),
      at(3, 10.2, 11, 14),
      0,
    ))
      expect(doubt).toBeLessThan(1e-9);
  });
});
