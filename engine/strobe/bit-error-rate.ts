import { normalUpper } from '../numerics/statistics.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { leastOver } from './intervals.ts';

/** Half-range of the jitter integral in standard deviations; what lies beyond is under 2e-15. */
const REACH = 8;
const CELLS = 64;
const WIDTH = (2 * REACH) / CELLS;

/** Least and greatest chance as the threshold moves through its stated uncertainty, and the chance as it is set. */
export interface WrongBit {
  readonly chance: number;
  readonly range: { readonly low: number; readonly high: number };
}

/**
 * Chance that one reading is wrong at this strobe and threshold: the greater of the chances that the least ONE is
 * read as ZERO and the greatest ZERO as ONE. Noise is Gaussian at one instant, the signal is the least (greatest)
 * value within the aperture, and the strobe's Gaussian jitter is integrated. For a straight trace and no aperture
 * this is Q(m / sqrt(noise^2 + (slope jitter)^2)).
 *
 * The low end of the range is taken over the middle between ONE and ZERO, as far as the uncertainty reaches it, and
 * the ends.
 */
export function wrongBit(
  envelope: StrobeEnvelope,
  strobe: number,
  threshold: number,
  uncertainties: StrobeUncertainties,
): WrongBit {
  const one = levels(envelope, strobe, uncertainties, 1);
  const zero = levels(envelope, strobe, uncertainties, -1);
  const { noise, threshold: u } = uncertainties;
  const chance = (at: number): number => Math.max(miss(one, -at, noise), miss(zero, at, noise));
  const centre = one.length >> 1;
  const middle = (one[centre] - zero[centre]) / 2;
  const nearest = Math.max(threshold - u, Math.min(threshold + u, middle));
  const ends = [threshold - u, threshold, threshold + u].map(chance);
  return {
    chance: ends[1],
    range: {
      low: Math.min(chance(nearest), ...ends),
      high: Math.max(miss(one, -threshold - u, noise), miss(zero, threshold - u, noise)),
    },
  };
}

/** sign times the least (greatest) value within the aperture, at every node of the jitter integral. */
function levels(
  { time, one, zero }: StrobeEnvelope,
  strobe: number,
  { jitter, aperture, delay, slope }: StrobeUncertainties,
  sign: 1 | -1,
): Float64Array {
  const values = sign === 1 ? one : zero;
  const half = aperture / 2;
  const at = (shift: number): number => {
    const t = strobe - delay + shift;
    return leastOver(time, values, t - half, t + half, sign, slope);
  };
  if (jitter === 0) return Float64Array.of(at(0));
  return Float64Array.from({ length: CELLS + 1 }, (_, i) => at((i * WIDTH - REACH) * jitter));
}

function miss(level: Float64Array, offset: number, noise: number): number {
  if (level.length === 1)
    return noise > 0 ? normalUpper((level[0] + offset) / noise) : step(level[0] + offset);
  return noise > 0 ? smoothMiss(level, offset, noise) : sharpMiss(level, offset);
}

const step = (margin: number): number => (margin < 0 ? 1 : margin > 0 ? 0 : 0.5);

/** Trapezium rule, which for a Gaussian times a smooth function converges faster than any power of the width. */
function smoothMiss(level: Float64Array, offset: number, noise: number): number {
  let sum = 0;
  let weights = 0;
  for (let i = 0; i <= CELLS; i++) {
    const z = i * WIDTH - REACH;
    const weight = Math.exp((-z * z) / 2);
    weights += weight;
    sum += weight * normalUpper((level[i] + offset) / noise);
  }
  return sum / weights;
}

/** Without noise: the Gaussian measure of the strobes at which the margin is negative. */
function sharpMiss(level: Float64Array, offset: number): number {
  let sum = 0;
  for (let i = 0; i < CELLS; i++) {
    const a = level[i] + offset;
    const b = level[i + 1] + offset;
    if (a >= 0 && b >= 0) continue;
    const from = i * WIDTH - REACH;
    const cross = from + (a === b ? 0 : (WIDTH * a) / (a - b));
    sum += measure(a < 0 ? from : cross, b < 0 ? from + WIDTH : cross);
  }
  return Math.min(1, sum);
}

/** Chance that a standard normal deviate lies in [a, b]; tails taken from their own side. */
function measure(a: number, b: number): number {
  return a > 0 ? normalUpper(a) - normalUpper(b) : normalUpper(-b) - normalUpper(-a);
}
