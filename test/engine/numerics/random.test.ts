import { describe, expect, test } from 'vitest';
import { normalDeviates, randomStream } from '../../../engine/numerics/random.ts';
import { mean, standardDeviation } from '../../../engine/numerics/statistics.ts';

const draws = (seed: number, index: number, count: number) => {
  const next = randomStream(seed, index);
  return Float64Array.from({ length: count }, () => next());
};

function correlation(a: Float64Array, b: Float64Array): number {
  const [ma, mb] = [mean(a), mean(b)];
  const products = a.map((value, i) => (value - ma) * (b[i] - mb));
  return (mean(products) * a.length) / (a.length - 1) / (standardDeviation(a) * standardDeviation(b));
}

describe('a random stream', () => {
  test('depends on seed and index alone', () => {
    expect(draws(7, 3, 50)).toEqual(draws(7, 3, 50));
    expect(draws(7, 3, 50)).not.toEqual(draws(7, 4, 50));
    expect(draws(7, 3, 50)).not.toEqual(draws(8, 3, 50));
    expect(draws(3, 7, 50)).not.toEqual(draws(7, 3, 50));
    expect(draws(2 ** 32 + 1, 0, 50)).not.toEqual(draws(1, 0, 50));
  });

  test('is uniform on [0, 1): each of 100 bins within five standard deviations of its share', () => {
    const bins = Array.from({ length: 100 }, () => 0);
    for (const value of draws(1, 0, 100_000)) bins[Math.floor(value * 100)]++;
    expect(bins.length).toBe(100);
    const sigma = Math.sqrt(100_000 * 0.01 * 0.99);
    for (const count of bins) expect(Math.abs(count - 1000)).toBeLessThan(5 * sigma);
  });

  test('is uncorrelated with its neighbours in seed and in index, even in its first draws', () => {
    // Standard error of a correlation of n pairs is 1/sqrt(n).
    const n = 20_000;
    for (const [seed, index] of [
      [2, 1],
      [1, 2],
      [3, 1],
    ]) {
      expect(Math.abs(correlation(draws(1, 1, n), draws(seed, index, n)))).toBeLessThan(5 / Math.sqrt(n));
    }
    const firstOf = (offset: number) =>
      Float64Array.from({ length: n }, (_, i) => randomStream(5, i + offset)());
    expect(Math.abs(correlation(firstOf(0), firstOf(1)))).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(mean(firstOf(0)) - 0.5)).toBeLessThan(5 / Math.sqrt(12 * n));
  });

  test('gives normal deviates of mean 0, standard deviation 1 and kurtosis 3', () => {
    const next = normalDeviates(randomStream(11));
    const values = Float64Array.from({ length: 100_000 }, () => next());
    expect(Math.abs(mean(values))).toBeLessThan(5 / Math.sqrt(1e5));
    expect(Math.abs(standardDeviation(values) - 1)).toBeLessThan(5 / Math.sqrt(2e5));
    // Standard error of the fourth moment of a normal is sqrt(96/n).
    expect(Math.abs(mean(values.map((v) => v ** 4)) - 3)).toBeLessThan(5 * Math.sqrt(96 / 1e5));
  });

  test('refuses a seed that is not a whole number, in one sentence with the value', () => {
    expect(() => randomStream(1.5)).toThrow(
      'A random seed must be a whole number from 0 to 2^53 - 1; received 1.5.',
    );
    expect(() => randomStream(1, -1)).toThrow('A random index must be a whole number');
  });
});
