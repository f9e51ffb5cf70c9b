import { describe, expect, it } from 'vitest';
import { nearestPoint, strokeAcross } from '../../web/lessons/ask/stroke.ts';

const at = [0, 20e-9, 60e-9, 120e-9];
const flat = at.map(() => 0);

describe('a stroke over an empty plot', () => {
  it('sets each point that it passes to where it was crossed, either way, and leaves the others', () => {
    const from = { time: 10e-9, value: 0.1 };
    const to = { time: 110e-9, value: 0.05 };
    const there = strokeAcross(at, flat, from, to);
    // Derived: on the straight line from one end to the other.
    expect(there.map((v) => Number(v.toFixed(6)))).toEqual([0, 0.095, 0.075, 0]);
    expect(strokeAcross(at, flat, to, from).map((v) => Number(v.toFixed(6)))).toEqual([0, 0.095, 0.075, 0]);
  });

  it('that stands still across leaves all as they are', () => {
    const spot = { time: 30e-9, value: 0.1 };
    expect(strokeAcross(at, flat, spot, { ...spot, value: 0.2 })).toEqual(flat);
  });

  it('begins at the point nearest to it', () => {
    expect([-1, 9, 11, 39, 41, 500].map((ns) => nearestPoint(at, ns * 1e-9))).toEqual([0, 0, 1, 1, 2, 3]);
  });
});
