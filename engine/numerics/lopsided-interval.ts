import { median, studentQuantile, type Interval } from './statistics.ts';

/**
 * Where 95 of 100 further draws lie, of a quantity with one hump that may lean: a normal half on either side of the
 * median, each as wide as the draws on its own side say, and no narrower than the draws. One width for both sides told
 * of a quantity that can fall far but hardly rise (what half-selected cores leave of a margin) that it may rise, and
 * not how far it may fall. Undefined of nothing.
 */
export function lopsidedInterval(values: readonly number[]): Interval | undefined {
  if (values.length === 0) return undefined;
  const centre = median(values);
  const reach = (side: 1 | -1): number => {
    const away = values.map((value) => side * (value - centre)).filter((value) => value > 0);
    if (away.length < 2) return Math.max(0, ...away);
    const width = Math.sqrt(away.reduce((sum, value) => sum + value * value, 0) / away.length);
    return studentQuantile(0.975, away.length) * Math.sqrt(1 + 1 / values.length) * width;
  };
  return {
    low: Math.min(centre - reach(-1), ...values),
    high: Math.max(centre + reach(1), ...values),
  };
}
