import { describe, expect, it } from 'vitest';
import type { Simulation } from '../../../engine/solver/result.ts';
import { spectrumOf, spectrumOfOne } from '../../../engine/strobe/spectrum.ts';
import { samples } from '../sense-amplifier/sense-channel.ts';
import { bell } from './synthetic-strobe.ts';

const ns = 1e-9;

describe('the spectrum of a single event', () => {
  it('of a sech^2 pulse is its closed form', () => {
    // Derived: for A sech^2(a t) the transform is A (pi w/a^2)/sinh(pi w/(2 a)), at 0 Hz the area 2 A/a.
    const width = 100 * ns;
    const a = (2 * Math.acosh(Math.SQRT2)) / width;
    const time = samples(2000 * ns, 1 * ns);
    const { frequency, density } = spectrumOf(
      time,
      time.map((t) => bell(0.04, 1000 * ns, width)(t)),
    );
    expect(density[0] / ((2 * 0.04) / a)).toBeCloseTo(1, 6);
    for (let k = 1; frequency[k] < 15e6; k++) {
      const w = 2 * Math.PI * frequency[k];
      const expected = (0.04 * Math.PI * w) / (a * a) / Math.sinh((Math.PI * w) / (2 * a));
      expect(density[k] / expected).toBeCloseTo(1, 4);
    }
  });

  it('keeps the energy (Parseval)', () => {
    const time = samples(1500 * ns, 1 * ns);
    const values = time.map((t) => bell(0.04, 500 * ns, 90 * ns)(t) - bell(0.1, 300 * ns, 20 * ns)(t));
    const { frequency, density } = spectrumOf(time, values);
    const inTime = values.reduce((sum, v) => sum + v * v, 0) * 1e-9;
    const last = density.length - 1;
    const twoSided = density.reduce((sum, d, k) => sum + (k === 0 || k === last ? 1 : 2) * d * d, 0);
    expect((twoSided * frequency[1]) / inTime).toBeCloseTo(1, 9);
  });
});

describe('ONE against half-select noise', () => {
  it('finds the frequency from which a fast disturbance is the greater', () => {
    const time = samples(2000 * ns, 1 * ns);
    const none = new Float64Array(time.length);
    const run = {
      time,
      design: { cycle: { readWidth: 700 * ns, gap: 300 * ns } },
      contributions: {
        directCoupling: time.map((t) => bell(0.05, 100 * ns, 20 * ns)(t)),
        halfSelectedReversible: none,
        halfSelectedIrreversible: none,
        // After the start of write: must not count.
        inhibit: time.map((t) => bell(5, 1500 * ns, 20 * ns)(t)),
        selectedCore: time.map((t) => bell(0.04, 300 * ns, 100 * ns)(t) + bell(1, 1500 * ns, 10 * ns)(t)),
      },
    } as unknown as Simulation;
    const { crossover, one, noise, frequency } = spectrumOfOne(run);
    // Where the closed forms of the two pulses cross, by bisection.
    const form = (peak: number, width: number, f: number): number => {
      const a = (2 * Math.acosh(Math.SQRT2)) / width;
      const w = 2 * Math.PI * f;
      return (peak * Math.PI * w) / (a * a) / Math.sinh((Math.PI * w) / (2 * a));
    };
    let low = 1e5;
    let high = 2e7;
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (form(0.04, 100 * ns, middle) > form(0.05, 20 * ns, middle)) low = middle;
      else high = middle;
    }
    expect(Math.abs(crossover - low)).toBeLessThan(2 * frequency[1]);
    expect(one[0]).toBeGreaterThan(noise[0]);
  });

  it('refuses a run that was not split by cause', () => {
    expect(() => spectrumOfOne({ contributions: undefined } as Simulation)).toThrow('not split by cause');
  });
});
