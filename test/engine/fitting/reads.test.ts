import { describe, expect, test } from 'vitest';
import { bestPair, halvesOf, wrongAt, type HeardReads } from '../../../engine/fitting/reads/best-strobe.ts';
import { readValues } from '../../../engine/fitting/reads/read-values.ts';
import { normalDeviates, randomStream } from '../../../engine/numerics/random.ts';
import { normalUpper, wilsonInterval } from '../../../engine/numerics/statistics.ts';
import {
  chanceIfNormal,
  contentOfExtreme,
  normalToleranceFactor,
} from '../../../engine/numerics/tolerance-limits.ts';

const normals = (count: number, index: number): number[] => {
  const normal = normalDeviates(randomStream(1946, index));
  return Array.from({ length: count }, () => normal());
};

describe('limits of tolerance', () => {
  test('the factor of a normal one is the published one', () => {
    // NIST/SEMATECH e-Handbook 7.2.6.3: 43 values, 90 % with 99 % confidence, k1 = 1.8752.
    expect(normalToleranceFactor(43, 0.9, 0.99)).toBeCloseTo(1.8752, 4);
  });

  test('both hold the share they tell in 95 of 100 samples', () => {
    let [free, normal] = [0, 0];
    for (let i = 0; i < 400; i++) {
      const values = normals(60, i);
      const { extreme, mean, standardDeviation } = readValues(values, 'above', 0.99);
      if (normalUpper(extreme) >= contentOfExtreme(60)) free++;
      if (normalUpper(mean - normalToleranceFactor(60, 0.99) * standardDeviation) >= 0.99) normal++;
    }
    // Four standard deviations of 400 trials about 95 %; the normal factor is an approximation.
    expect(free / 400).toBeGreaterThan(0.906);
    expect(normal / 400).toBeGreaterThan(0.906);
    expect(Math.max(free, normal) / 400).toBeLessThan(0.994);
  });

  test('no normal limit is told of values that are not normal', () => {
    expect(chanceIfNormal(normals(200, 3))).toBeGreaterThan(0.01);
    const skewed = normals(200, 4).map((z) => Math.exp(z));
    expect(readValues(skewed, 'above', 0.99).normalLimit).toBeUndefined();
    expect(readValues(normals(10, 5), 'above', 0.99).normalLimit).toBeUndefined();
    const { counts } = readValues(skewed, 'above', 0.99).histogram;
    expect(counts.reduce((sum, n) => sum + n, 0)).toBe(200);
  });
});

test('the chance of a wrong bit and the limits, told by reads that had no part in the choice, hold the true ones in 95 of 100', () => {
  let held = 0;
  let limits = 0;
  for (let trial = 0; trial < 100; trial++) {
    const draw = (mean: number, k: number): Float64Array[] =>
      normals(150, 1000 + 2 * trial + k).map((z, i, all) =>
        Float64Array.of(0.2 * mean + z, mean + z, 0.5 * mean + all[(i + 7) % 150]!),
      );
    const reads: HeardReads = { time: Float64Array.of(0, 1, 2), ones: draw(3, 0), zeros: draw(0, 1) };
    const [chosenOn, rest] = halvesOf(reads);
    const pair = bestPair(chosenOn);
    const ones = [0.6, 3, 1.5][pair.at]!;
    const truth = (normalUpper(ones - pair.threshold) + normalUpper(pair.threshold)) / 2;
    const { low, high } = wilsonInterval(wrongAt(rest, pair), 150);
    if (low <= truth && truth <= high) held++;
    const least = readValues(
      rest.ones.map((read) => read[pair.at]!),
      'above',
      0.99,
    );
    if (normalUpper(least.extreme - ones) >= least.contentOfExtreme) limits++;
  }
  expect(held).toBeGreaterThanOrEqual(90);
  expect(limits).toBeGreaterThanOrEqual(90);
});
