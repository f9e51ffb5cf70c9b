import { describe, expect, test } from 'vitest';
import { incompleteBeta, logGamma, upperGamma } from '../../../engine/numerics/special.ts';
import {
  chiSquareUpper,
  mean,
  median,
  normalQuantile,
  normalUpper,
  quantile,
  standardDeviation,
  studentQuantile,
  studentUpper,
  wilsonInterval,
} from '../../../engine/numerics/statistics.ts';

/** Simpson's rule on n even intervals: an independent route to a tail. */
function integrate(f: (x: number) => number, from: number, to: number, n = 4000): number {
  const h = (to - from) / n;
  let sum = f(from) + f(to);
  for (let i = 1; i < n; i++) sum += (i % 2 ? 4 : 2) * f(from + i * h);
  return (sum * h) / 3;
}

const density = (x: number) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);

describe('special functions', () => {
  test('ln Gamma gives exact factorials and Gamma(1/2) = sqrt(pi)', () => {
    let factorial = 1;
    for (let n = 1; n <= 20; n++) {
      expect(Math.exp(logGamma(n)) / factorial).toBeCloseTo(1, 12);
      factorial *= n;
    }
    expect(Math.exp(2 * logGamma(0.5))).toBeCloseTo(Math.PI, 12);
  });

  test('Q(1, x) = exp(-x), Q(2, x) = (1 + x) exp(-x), I_x(a, 1) = x^a, on both sides of each switch of method', () => {
    for (const x of [0.01, 0.5, 1.9, 2.1, 5, 30]) {
      expect(upperGamma(1, x) / Math.exp(-x)).toBeCloseTo(1, 12);
      expect(upperGamma(2, x) / ((1 + x) * Math.exp(-x))).toBeCloseTo(1, 12);
    }
    for (const x of [0.01, 0.3, 0.7, 0.99]) {
      expect(incompleteBeta(3, 1, x)).toBeCloseTo(x ** 3, 12);
      expect(incompleteBeta(1, 4, x)).toBeCloseTo(1 - (1 - x) ** 4, 12);
    }
  });
});

describe('distributions', () => {
  test('normal tail equals the integral of its density', () => {
    for (const z of [0.1, 0.5, 1, 2, 3]) {
      expect(normalUpper(z)).toBeCloseTo(0.5 - integrate(density, 0, z), 12);
      expect(normalUpper(-z) + normalUpper(z)).toBeCloseTo(1, 14);
    }
  });

  test('normal quantile undoes the tail, far out too', () => {
    for (const p of [1e-12, 1e-4, 0.025, 0.3, 0.5, 0.9]) {
      expect(normalUpper(-normalQuantile(p)) / p).toBeCloseTo(1, 10);
    }
    expect(normalQuantile(0)).toBe(-Infinity);
    expect(normalQuantile(1)).toBe(Infinity);
    expect(normalQuantile(2)).toBeNaN();
  });

  test('Student quantiles agree with the published table of upper critical values', () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, table of upper critical values of Student's t.
    const table: [number, number, number][] = [
      [1, 0.975, 12.706],
      [2, 0.975, 4.303],
      [3, 0.95, 2.353],
      [5, 0.975, 2.571],
      [10, 0.995, 3.169],
      [20, 0.9, 1.325],
      [30, 0.999, 3.385],
      [100, 0.975, 1.984],
      [Infinity, 0.975, 1.96],
      [Infinity, 0.999, 3.09],
    ];
    for (const [degrees, p, expected] of table) {
      expect(Math.abs(studentQuantile(p, degrees) - expected)).toBeLessThan(0.00051);
      expect(studentQuantile(1 - p, degrees)).toBeCloseTo(-studentQuantile(p, degrees), 9);
    }
  });

  test('Student with 1 and 2 degrees of freedom equals its closed form', () => {
    for (const p of [0.6, 0.9, 0.99, 0.9999]) {
      expect(studentQuantile(p, 1) / Math.tan(Math.PI * (p - 0.5))).toBeCloseTo(1, 9);
      expect(studentQuantile(p, 2) / ((2 * p - 1) / Math.sqrt(2 * p * (1 - p)))).toBeCloseTo(1, 9);
    }
    expect(studentUpper(0, 7)).toBeCloseTo(0.5, 14);
  });

  test('chi-square with 2 degrees of freedom is exp(-x/2)', () => {
    for (const x of [0.1, 1, 5.991, 20]) expect(chiSquareUpper(x, 2)).toBeCloseTo(Math.exp(-x / 2), 12);
  });
});

describe('summaries', () => {
  test('quantiles interpolate between order statistics without touching their input', () => {
    const values = [4, 1, 3, 2];
    expect(quantile(values, 0)).toBe(1);
    expect(quantile(values, 1)).toBe(4);
    expect(median(values)).toBe(2.5);
    expect(quantile(values, 0.25)).toBe(1.75);
    expect(values).toEqual([4, 1, 3, 2]);
    expect(quantile([], 0.5)).toBeNaN();
  });

  test('mean and standard deviation of a small set are as by hand', () => {
    expect(mean([2, 4, 4, 4, 5, 5, 7, 9])).toBe(5);
    expect(standardDeviation([2, 4, 4, 4, 5, 5, 7, 9])).toBeCloseTo(Math.sqrt(32 / 7), 14);
    expect(standardDeviation([1])).toBeNaN();
  });

  test("both ends of Wilson's interval solve the score equation (p - phat)^2 = z^2 p (1 - p)/n", () => {
    for (const [k, n] of [
      [1, 10],
      [5, 10],
      [186, 200],
      [999, 1000],
    ]) {
      const { low, high } = wilsonInterval(k, n);
      const z = normalQuantile(0.975);
      for (const p of [low, high]) expect((p - k / n) ** 2).toBeCloseTo((z * z * p * (1 - p)) / n, 12);
      expect(low).toBeLessThan(k / n);
      expect(high).toBeGreaterThan(k / n);
    }
  });

  test("Wilson's interval reaches exactly 0 and 1 at no and all successes and is everything without trials", () => {
    expect(wilsonInterval(0, 20).low).toBe(0);
    expect(wilsonInterval(0, 20).high).toBeGreaterThan(0.1);
    expect(wilsonInterval(20, 20).high).toBe(1);
    expect(wilsonInterval(0, 0)).toEqual({ low: 0, high: 1 });
  });
});
