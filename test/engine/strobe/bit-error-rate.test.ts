import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalUpper } from '../../../engine/numerics/statistics.ts';
import { wrongBit } from '../../../engine/strobe/bit-error-rate.ts';
import { envelopeFrom, exact } from './synthetic-strobe.ts';

const ns = 1e-9;
const mV = 1e-3;

/** Upper tail of the normal density by Simpson's rule: a route that shares nothing with the engine's. */
function tailByIntegration(z: number): number {
  const n = 4000;
  const h = 12 / n;
  let sum = 0;
  for (let i = 0; i <= n; i++)
    sum += (i === 0 || i === n ? 1 : i % 2 ? 4 : 2) * Math.exp(-((z + i * h) ** 2) / 2);
  return (sum * h) / 3 / Math.sqrt(2 * Math.PI);
}

describe('the chance of a wrong bit', () => {
  it('rests on a normal tail that equals the integral of the density', () => {
    for (const z of [0, 0.5, 1, 2, 3.5, 5, 6.5])
      expect(Math.abs(normalUpper(z) / tailByIntegration(z) - 1)).toBeLessThan(1e-9);
  });

  it('equals Q(margin/noise) for a flat trace', () => {
    const flat = envelopeFrom([() => 30 * mV], [() => -100 * mV]);
    const { chance } = wrongBit(flat, 300 * ns, 20 * mV, { ...exact, noise: 4 * mV });
    expect(chance / tailByIntegration(2.5)).toBeCloseTo(1, 9);
  });

  it('adds noise and slope times jitter as squares for a straight trace (closed form)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -2e5, max: 2e5, noNaN: true }),
        fc.double({ min: 1 * mV, max: 5 * mV, noNaN: true }),
        fc.double({ min: 0.5 * ns, max: 10 * ns, noNaN: true }),
        fc.double({ min: -5 * mV, max: 12 * mV, noNaN: true }),
        (slope, noise, jitter, margin) => {
          const line = envelopeFrom([(t) => 20 * mV + margin + slope * (t - 300 * ns)], [() => -1]);
          const { chance } = wrongBit(line, 300 * ns, 20 * mV, { ...exact, noise, jitter });
          const expected = normalUpper(margin / Math.hypot(noise, slope * jitter));
          // The integral ends at 8 standard deviations of the jitter: what lies beyond is under 2e-15.
          expect(Math.abs(chance - expected)).toBeLessThan(1e-6 * expected + 2e-15);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('without noise is the chance that jitter takes the strobe past the edge', () => {
    const edge = envelopeFrom([(t) => 20 * mV + (320.3 * ns - t) * 1e5], [() => -1]);
    const { chance } = wrongBit(edge, 300 * ns, 20 * mV, { ...exact, jitter: 7 * ns });
    expect(chance / tailByIntegration(20.3 / 7)).toBeCloseTo(1, 6);
  });

  it('is nothing or certain without noise and jitter', () => {
    const flat = envelopeFrom([() => 30 * mV], [() => 10 * mV]);
    expect(wrongBit(flat, 300 * ns, 20 * mV, exact).chance).toBe(0);
    expect(wrongBit(flat, 300 * ns, 31 * mV, exact).chance).toBe(1);
    expect(wrongBit(flat, 300 * ns, 9 * mV, exact).chance).toBe(1);
  });

  it('has a range over the threshold uncertainty that holds the chance itself', () => {
    const flat = envelopeFrom([() => 30 * mV], [() => 12 * mV]);
    const u = { ...exact, noise: 3 * mV, threshold: 4 * mV };
    const { chance, range } = wrongBit(flat, 300 * ns, 23 * mV, u);
    expect(range.high / tailByIntegration(1)).toBeCloseTo(1, 8);
    expect(range.low / tailByIntegration(3)).toBeCloseTo(1, 8);
    expect(range.low).toBeLessThan(chance);
    expect(chance).toBeLessThan(range.high);
  });

  it('counts the least value within the aperture', () => {
    const line = envelopeFrom([(t) => 20 * mV + (t - 290 * ns) * 1e6], [() => -1]);
    const { chance } = wrongBit(line, 300 * ns, 20 * mV, { ...exact, aperture: 8 * ns, noise: 3 * mV });
    expect(chance / tailByIntegration(2)).toBeCloseTo(1, 8);
  });
});
