import { describe, expect, it } from 'vitest';
import { randomStream } from '../../../engine/numerics/random.ts';
import { product, searchCases } from '../../../engine/strobe/worst-case.ts';

describe('the worst case of a product', () => {
  const sizes = [4, 8, 5, 9];

  /** Effects of each factor, up to 1, and of each pair of the first with the last, up to 0.3, drawn. */
  function made(seed: number): (index: readonly number[]) => number {
    const random = randomStream(seed, 5);
    const single = sizes.map((size) => Array.from({ length: size }, random));
    const pairs = Array.from({ length: 4 }, () => Array.from({ length: 9 }, () => 0.3 * random()));
    return (index) =>
      index.reduce((sum, value, factor) => sum + single[factor]![value]!, pairs[index[0]!]![index[3]!]!);
  }

  it('is found where factors add up and two that are named interact, with a small part of the runs', () => {
    const pair = ([, b, c]: readonly number[]): number[][] =>
      product([4, 9]).map(([a, d]) => [a!, b!, c!, d!]);
    for (let seed = 1; seed <= 40; seed++) {
      const value = made(seed);
      let runs = 0;
      let worst = -Infinity;
      const run = (index: readonly number[]) => {
        runs++;
        worst = Math.max(worst, value(index));
        return () => value(index);
      };
      searchCases(sizes, [[0, 0, 0, 0]], run, pair).settle(0);
      expect(worst).toBe(Math.max(...product(sizes).map(value)));
      expect(runs).toBeLessThan(product(sizes).length / 10);
    }
  });

  it('holds the last factor at its first value where it is not free', () => {
    const value = made(3);
    const seen: (readonly number[])[] = [];
    const search = searchCases(sizes, [[0, 0, 0, 0]], (index) => {
      seen.push(index);
      return () => value(index);
    });
    search.free(false).settle(0);
    expect(new Set(seen.map((index) => index[3]))).toEqual(new Set([0]));
  });
});
