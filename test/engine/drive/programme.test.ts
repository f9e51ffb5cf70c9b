/** Overshoot of an edge. Independent route: its differential equation, stepped by a Runge-Kutta formula. */
import { describe, expect, it } from 'vitest';
import type { EdgeShape } from '../../../engine/design/drive.ts';
import { edgeFraction, type Edge } from '../../../engine/drive/edge.ts';

const ns = 1e-9;
const ringing = (shape: EdgeShape, duration: number, fraction: number, frequency: number): Edge => ({
  shape,
  duration,
  overshoot: { fraction, frequency },
});

/** y'' + 2 zeta w y' + w^2 y = w^2 x from rest, at the end of each step h up to `end`. */
function stepped(x: (t: number) => number, zeta: number, w: number, h: number, end: number): number[] {
  const out: number[] = [];
  let [y, v] = [0, 0];
  const pull = (at: number, p: number, q: number): number => w * w * (x(at) - p) - 2 * zeta * w * q;
  for (let n = 0; n * h < end; n++) {
    const t = n * h;
    const [a1, b1] = [v, pull(t, y, v)];
    const [a2, b2] = [v + (h / 2) * b1, pull(t + h / 2, y + (h / 2) * a1, v + (h / 2) * b1)];
    const [a3, b3] = [v + (h / 2) * b2, pull(t + h / 2, y + (h / 2) * a2, v + (h / 2) * b2)];
    const [a4, b4] = [v + h * b3, pull(t + h, y + h * a3, v + h * b3)];
    y += (h * (a1 + 2 * a2 + 2 * a3 + a4)) / 6;
    v += (h * (b1 + 2 * b2 + 2 * b3 + b4)) / 6;
    out.push(y);
  }
  return out;
}

describe('overshoot', () => {
  // Derived: of a step the first overshoot is exp(-pi zeta/sqrt(1 - zeta^2)), half a period after it.
  it('is the stated fraction, half a period of the stated frequency after an edge that is next to a step', () => {
    const edge = ringing({ kind: 'linear' }, 0.01 * ns, 0.2, 20e6);
    const at = Array.from({ length: 4000 }, (_, i) => edgeFraction(edge, i * 0.05 * ns));
    const peak = at.indexOf(Math.max(...at));
    expect(at[peak]! - 1).toBeCloseTo(0.2, 4);
    expect((peak * 0.05 * ns) / (25 * ns)).toBeCloseTo(1, 2);
  });

  it.each([
    [{ kind: 'linear' }, 1e-6],
    [
      {
        kind: 'table',
        points: [
          [0, 0],
          [0.25, 0.5],
          [1, 1],
        ],
      },
      1e-6,
    ],
    // Smooth shapes are followed in 48 straight pieces, an exponential one until it is within a thousandth of its end.
    [{ kind: 'raised-cosine' }, 1e-3],
    [{ kind: 'exponential' }, 5e-3],
  ] as const)('of an edge %o is what its equation gives', (shape, limit) => {
    const [duration, fraction, frequency] = [40 * ns, 0.15, 15e6];
    const edge = ringing(shape, duration, fraction, frequency);
    const plain: Edge = { ...edge, overshoot: { fraction: 0, frequency } };
    const zeta = -Math.log(fraction) / Math.hypot(Math.PI, Math.log(fraction));
    const w = (2 * Math.PI * frequency) / Math.sqrt(1 - zeta * zeta);
    const h = 0.05 * ns;
    const exact = stepped((t) => edgeFraction(plain, t), zeta, w, h, 300 * ns);
    exact.forEach((y, n) => expect(Math.abs(edgeFraction(edge, (n + 1) * h) - y)).toBeLessThan(limit));
  });
});
