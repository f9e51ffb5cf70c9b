import { describe, expect, test } from 'vitest';
import { bestLags, correlationSums } from '../../../engine/numerics/cross-correlation.ts';
import { normalDeviates, randomStream } from '../../../engine/numerics/random.ts';

const pulse = (n: number, centre: number, width = 8) =>
  Float64Array.from(
    { length: n },
    (_, i) => Math.exp(-(((i - centre) / width) ** 2)) - 0.4 * Math.exp(-(((i - centre - 30) / 5) ** 2)),
  );

/** The best one. */
const bestLag = (...given: Parameters<typeof bestLags>) => bestLags(...given)[0];

describe('cross-correlation', () => {
  test('equals the sums done by hand at every lag', () => {
    const next = normalDeviates(randomStream(3));
    const a = Float64Array.from({ length: 13 }, next);
    const b = Float64Array.from({ length: 7 }, next);
    const sums = correlationSums(a, b);
    expect(sums).toHaveLength(19);
    sums.forEach((value, k) => {
      const lag = k - 6;
      let direct = 0;
      for (let n = 0; n < b.length; n++) direct += (a[n + lag] ?? 0) * b[n];
      expect(value).toBeCloseTo(direct, 10);
    });
  });

  test('finds a delay of either sign, whatever gain and offset', () => {
    for (const delay of [-60, -7, 0, 25, 90]) {
      const moving = pulse(300, 150).map((v) => 0.02 * v + 5);
      const match = bestLag(pulse(300, 150 + delay), moving);
      expect(match?.lag).toBeCloseTo(delay, 1);
      expect(match?.coefficient).toBeGreaterThan(0.98);
    }
  });

  test('finds a delay of a fraction of a sample', () => {
    expect(bestLag(pulse(300, 160.3), pulse(300, 150))?.lag).toBeCloseTo(10.3, 1);
  });

  test('finds a reversed trace and says so by the sign; refuses it when told that polarity is known', () => {
    const moving = pulse(300, 150).map((v) => -v);
    expect(bestLag(pulse(300, 170), moving)?.coefficient).toBeLessThan(-0.98);
    expect(bestLag(pulse(300, 170), moving)?.lag).toBeCloseTo(20, 1);
    expect(bestLag(pulse(300, 170), moving, { reversed: false })?.coefficient).toBeLessThan(0.9);
  });

  test('traces of different length match where they overlap', () => {
    expect(bestLag(pulse(500, 350), pulse(200, 90))?.lag).toBeCloseTo(260, 1);
  });

  test('a flat trace matches nothing', () => {
    expect(bestLag(pulse(100, 50), new Float64Array(100).fill(3))).toBeUndefined();
  });
});
