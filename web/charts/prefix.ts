const PREFIXES = [
  { symbol: 'p', factor: 1e-12 },
  { symbol: 'n', factor: 1e-9 },
  { symbol: 'µ', factor: 1e-6 },
  { symbol: 'm', factor: 1e-3 },
  { symbol: '', factor: 1 },
  { symbol: 'k', factor: 1e3 },
  { symbol: 'M', factor: 1e6 },
] as const;

export interface Prefix {
  readonly symbol: string;
  readonly factor: number;
}

/** The one prefix of an axis: the greatest for which the largest magnitude is at least 1. */
export function axisPrefix(largest: number): Prefix {
  const size = Math.abs(largest);
  if (!(size > 0) || !Number.isFinite(size)) return PREFIXES[4];
  const fitting = PREFIXES.filter((prefix) => size >= prefix.factor * 0.999_999);
  return fitting.at(-1) ?? PREFIXES[0];
}

/** The prefix of a unit as it stands at an axis: of "mV" with the unit V; undefined where it is of another unit. */
export const prefixIn = (text: string, unit: string): Prefix | undefined =>
  PREFIXES.find(({ symbol }) => text === symbol + unit);

/** A number with a true minus sign: -1.5 -> "−1.5". */
export const withMinus = (text: string): string => text.replace('-', '−');
