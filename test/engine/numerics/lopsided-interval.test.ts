import { describe, expect, it } from 'vitest';
import { lopsidedInterval } from '../../../engine/numerics/lopsided-interval.ts';
import { normalDeviates, randomStream } from '../../../engine/numerics/random.ts';
import { mean } from '../../../engine/numerics/statistics.ts';

const DRAWS = 20;
const ROUNDS = 2000;

/** Share of further draws that lie in the interval of twenty, and its mean ends. */
function held(draw: (random: () => number, normal: () => number) => number) {
  let inside = 0;
  const ends: [number[], number[]] = [[], []];
  for (let seed = 0; seed < ROUNDS; seed++) {
    const random = randomStream(seed, 5);
    const normal = normalDeviates(random);
    const next = (): number => draw(random, normal);
    const { low, high } = lopsidedInterval(Array.from({ length: DRAWS }, next))!;
    ends[0].push(low);
    ends[1].push(high);
    const other = next();
    if (low <= other && other <= high) inside++;
  }
  return { share: inside / ROUNDS, low: mean(ends[0]), high: mean(ends[1]) };
}

describe('the interval of a quantity that may lean', () => {
  it('holds 94 of 100 further draws of a normal one, of one that only falls, and of one that leans', () => {
    expect(held((_, normal) => normal()).share).toBeGreaterThan(0.94);
    expect(held((random) => Math.log(1 - random())).share).toBeGreaterThan(0.94);
    expect(held((_, normal) => -Math.exp(normal() - 1)).share).toBeGreaterThan(0.94);
  });

  it('does not tell of a fall on one side that there may be a rise on the other', () => {
    // Nought or below: an interval of one width for both sides reaches to about +1.1.
    const { low, high } = held((random) => Math.log(1 - random()));
    expect(high).toBeLessThan(0.7);
    expect(low).toBeLessThan(-3);
  });

  it('is the value itself of one, and nothing of none', () => {
    expect(lopsidedInterval([3])).toEqual({ low: 3, high: 3 });
    expect(lopsidedInterval([])).toBeUndefined();
  });
});
