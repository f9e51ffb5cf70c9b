import type { Estimate } from './shape.ts';

/**
 * An estimate for people: as many places as two significant digits of its uncertainty have, with the kind of
 * interval, the number of samples and the seed.
 *
 *     yield per bit 98.3 % (91.1 % to 99.7 %; 95 % Wilson, 60 samples, seed 1)
 *     mean margin of a bit 13.43 mV (12.59 mV to 14.28 mV; 95 % normal, 60 samples, seed 1)
 */
export function formatEstimate(estimate: Estimate): string {
  const { label, interval, samples, seed } = estimate;
  const { value, low, high } = roundEstimate(estimate);
  return `${label} ${value} (${low} to ${high}; ${interval}, ${samples} samples, seed ${seed})`;
}

const PREFIXES: readonly (readonly [number, string])[] = [
  [1, ''],
  [1e-3, 'm'],
  [1e-6, 'µ'],
  [1e-9, 'n'],
  [1e-12, 'p'],
];

/** Value and ends with their unit; a ratio is given in per cent. */
export function roundEstimate({ unit, value, low, high }: Estimate): {
  value: string;
  low: string;
  high: string;
} {
  const size = Math.max(Math.abs(value), Math.abs(low), Math.abs(high));
  const [scale, prefix] = PREFIXES.find(([step]) => size >= step) ?? PREFIXES.at(-1)!;
  const factor = unit === '' ? 100 : 1 / scale;
  const name = unit === '' ? '%' : `${prefix}${unit}`;
  const half = ((high - low) / 2) * factor;
  const places = half > 0 ? Math.max(0, Math.min(12, 1 - Math.floor(Math.log10(half)))) : 0;
  const text = (number: number): string => `${(number * factor).toFixed(places).replace(/^-/u, '−')} ${name}`;
  return { value: text(value), low: text(low), high: text(high) };
}
