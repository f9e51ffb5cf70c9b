import { randomNormal } from 'd3-random';

/**
 * Seeded random numbers. A stream is fixed by (seed, index) alone, so sample i of a study is the same whichever
 * worker draws it. The generator is sfc32 (four 32-bit words, one of them a counter, so no short cycle), seeded
 * through the splitmix finaliser so that neighbouring seeds and indices give unrelated streams.
 */

/** A source of numbers in [0, 1), usable as the argument of any d3-random `.source()`. */
export type RandomSource = () => number;

/** One step of splitmix32: mixes `word` into `state` and scrambles. */
function mix(state: number, word: number): number {
  let z = (state + 0x9e3779b9 + word) | 0;
  z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
  z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
  return z ^ (z >>> 15);
}

/** Absorbs a whole number of up to 53 bits, low word then high word. */
function absorb(state: number, value: number): number {
  const low = value % 4294967296;
  return mix(mix(state, low | 0), Math.floor((value - low) / 4294967296) | 0);
}

/**
 * The stream of (seed, index), numbers in [0, 1) with 53 random bits.
 * Both are whole numbers from 0 to 2^53 - 1; anything else throws a RangeError.
 */
export function randomStream(seed: number, index = 0): RandomSource {
  for (const [name, value] of [
    ['seed', seed],
    ['index', index],
  ] as const) {
    if (!Number.isSafeInteger(value) || value < 0) {
      throw new RangeError(`A random ${name} must be a whole number from 0 to 2^53 - 1; received ${value}.`);
    }
  }
  let state = absorb(absorb(0, seed), index);
  const seeded = (): number => (state = mix(state, 0));
  let [a, b, c, counter] = [seeded(), seeded(), seeded(), 1];
  const next32 = (): number => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return t >>> 0;
  };
  for (let i = 0; i < 15; i++) next32();
  return () => ((next32() >>> 5) * 67108864 + (next32() >>> 6)) / 9007199254740992;
}

/** Normal deviates, mean 0 and standard deviation 1, from a source. */
export function normalDeviates(source: RandomSource): RandomSource {
  return randomNormal.source(source)(0, 1);
}
