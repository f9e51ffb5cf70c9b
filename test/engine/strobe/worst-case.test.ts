import { describe, expect, it } from 'vitest';
import { randomStream } from '../../../engine/numerics/random.ts';
import { searchCases } from '../../../engine/strobe/worst-case.ts';
import type { CaseProduct } from '../../../engine/strobe/worst-case.ts';

describe('the worst case of a product', () => {
  const sizes = [4, 8, 5, 9];
  const count = sizes.reduce((a, b) => a * b);
  const split = (place: number): number[] => {
    const index: number[] = [];
    let rest = place;
    for (const size of sizes.toReversed()) {
      index.unshift(rest % size);
      rest = Math.floor(rest / size);
    }
    return index;
  };
  const indices = Array.from({ length: count }, (_, place) => split(place));
  const indexOf = (place: number): number[] => indices[place]!;
  const placeOf = (index: readonly number[]): number =>
    index.reduce((at, value, f) => at * sizes[f]! + value, 0);

  /** Millivolts of each factor, up to 1, and of each pair of the first with the last, up to 0.3, drawn; of either sign. */
  function made(seed: number): (place: number) => number {
    const random = randomStream(seed, 5);
    const single = sizes.map((size) => Array.from({ length: size }, () => 2 * random() - 1));
    const pairs = Array.from({ length: 4 }, () => Array.from({ length: 9 }, () => 0.3 * random()));
    return (place) => {
      const index = indexOf(place);
      return 1e-3 * index.reduce((sum, value, f) => sum + single[f]![value]!, pairs[index[0]!]![index[3]!]!);
    };
  }

  function productOf(value: (place: number) => number, badness: CaseProduct['badness'], seen: Set<number>) {
    const about = (place: number): number[] => {
      const index = indexOf(place);
      return sizes.flatMap((size, f) => Array.from({ length: size }, (_, v) => placeOf(index.with(f, v))));
    };
    const product: CaseProduct = {
      count,
      asDesigned: (place) => indexOf(place)[3] === 0,
      alike: (a, b) => {
        const [i, j] = [indexOf(a), indexOf(b)];
        const same = i.map((value, f) => Number(value === j[f]));
        return same.reduce((x, y) => x + y) + 0.1 * same[0]! * same[3]!;
      },
      about: (place) => ({
        traits: about(place).filter((p) => indexOf(p)[3] === indexOf(place)[3]),
        corners: about(place),
      }),
      badness,
      run: (place) => {
        seen.add(place);
        return () => value(place);
      },
    };
    return product;
  }

  it('is found where factors add up and two of them interact, with a small part of the runs', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const value = made(seed);
      const seen = new Set<number>();
      searchCases(productOf(value, [(u) => u], seen), [0]).settle(0);
      const worst = Math.max(...Array.from({ length: count }, (_, place) => value(place)));
      // What is worse by less than 50 uV is not sought.
      expect(Math.max(...[...seen].map(value))).toBeGreaterThan(worst - 51e-6);
      expect(seen.size).toBeLessThan(count / 8);
    }
  });

  it('is found on the far side of nought too, where either sign is bad', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const value = made(seed);
      const seen = new Set<number>();
      searchCases(productOf(value, [(u) => u, (u) => -u], seen), [0]).settle(0);
      const size = (place: number): number => Math.abs(value(place));
      const worst = Math.max(...Array.from({ length: count }, (_, place) => size(place)));
      expect(Math.max(...[...seen].map(size))).toBeGreaterThan(worst - 51e-6);
    }
  });

  it('is sought as designed alone where corners do not count', () => {
    const seen = new Set<number>();
    searchCases(productOf(made(3), [(u) => u], seen), [0])
      .free(false)
      .settle(0);
    expect(new Set([...seen].map((place) => indexOf(place)[3]))).toEqual(new Set([0]));
  });

  it('goes on without the cases whose runs fail', () => {
    const value = made(4);
    const seen = new Set<number>();
    const whole = productOf(value, [(u) => u], seen);
    const odd = (place: number): boolean => indexOf(place)[1] === 3;
    const product: CaseProduct = { ...whole, run: (place) => (odd(place) ? undefined : whole.run(place)) };
    searchCases(product, [0]).settle(0);
    const others = Array.from({ length: count }, (_, place) => place).filter((place) => !odd(place));
    expect(Math.max(...[...seen].map(value))).toBeGreaterThan(Math.max(...others.map(value)) - 51e-6);
  });
});
