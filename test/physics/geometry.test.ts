/** Inductance of a straight wire by two routes: the closed form, and Neumann's double integral done numerically. */
import { describe, expect, it } from 'vitest';
import { MU_0, OERSTED, toOersted } from '../../engine/core/geometry.ts';
import { straightWireInductance } from '../../engine/core/straight-wires.ts';
import { relative } from './core-helpers.ts';

/** Simpson's rule with n (even) intervals. */
function simpson(f: (x: number) => number, a: number, b: number, n: number): number {
  const h = (b - a) / n;
  let sum = f(a) + f(b);
  for (let k = 1; k < n; k++) sum += (k % 2 === 1 ? 4 : 2) * f(a + k * h);
  return (sum * h) / 3;
}

/** Neumann: mutual inductance of two parallel filaments of length l at distance d, u = d sinh x takes out the peak. */
const neumann = (l: number, d: number): number =>
  (MU_0 / (2 * Math.PI)) * simpson((x) => l - d * Math.sinh(x), 0, Math.asinh(l / d), 2000);

/** Mean of ln |p - q| over a unit disc: ln max(a, b) is the mean over the angle between radii a and b. */
const meanLogDistance = (): number =>
  simpson((a) => 2 * a * simpson((b) => 2 * b * Math.log(Math.max(a, b, 1e-12)), 0, 1, 2000), 0, 1, 2000);

describe('straight wire', () => {
  it('the geometric mean distance of a disc from itself is its radius times e^(-1/4)', () => {
    expect(Math.abs(meanLogDistance() + 0.25)).toBeLessThan(1e-5);
  });

  it.each([
    [0.05, 0.05e-3],
    [0.5, 0.05e-3],
    [1, 0.1e-3],
  ])('a wire of %d m and radius %d m has the inductance of Neumann’s integral', (length, radius) => {
    const filament = neumann(length, radius * Math.exp(-0.25));
    // Derived: the closed form leaves out d/l, the distance of the filaments over the length.
    expect(relative(straightWireInductance(length, radius), filament)).toBeLessThan((2 * radius) / length);
  });

  it('doubling the length more than doubles the inductance', () => {
    const one = straightWireInductance(0.1, 0.05e-3);
    const two = straightWireInductance(0.2, 0.05e-3);
    // Derived: the extra is mu_0 2 l ln 2/(2 pi).
    expect(relative(two - 2 * one, (MU_0 * 0.2 * Math.LN2) / (2 * Math.PI))).toBeLessThan(1e-9);
  });
});

describe('oersted', () => {
  it('is 1000/(4 pi) A/m by definition', () => {
    expect(toOersted(1000 / (4 * Math.PI))).toBeCloseTo(1, 14);
    expect(OERSTED).toBeCloseTo(79.577, 3);
  });
});
