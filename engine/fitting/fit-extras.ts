import type { LineUp } from './align/line-up.ts';
import type { Prepared } from './fit-captures.ts';
import type { Extra } from './fit-seen-through.ts';

/** Standard deviation of the logarithm of a bandwidth before the captures speak. */
const SPREAD = 1.2;

/** Where each of a capture's extras starts. */
export const extraStarts = (c: Prepared): number[] =>
  c.extras.map((kind) => ({ shift: 0, offset: 0, gain: c.line.gain, bandwidth: 0 })[kind]);

export function extraBounds(c: Prepared): { low: number; high: number; typical: number }[] {
  const free = { low: -Infinity, high: Infinity };
  const kinds: Record<Extra, { low: number; high: number; typical: number }> = {
    shift: { ...free, typical: 1e-9 },
    offset: { ...free, typical: c.sigma },
    gain: { ...free, typical: Math.abs(c.line.gain) },
    bandwidth: { low: -4 * SPREAD, high: 4 * SPREAD, typical: 1 },
  };
  return c.extras.map((kind) => kinds[kind]);
}

/** Where each capture's extra parameters begin. */
export function extraPlaces(prepared: readonly Prepared[], first: number): number[] {
  let at = first;
  return prepared.map((c) => {
    const place = at;
    at += c.extras.length;
    return place;
  });
}

/** Place of one of a capture's extras in a parameter vector; -1 where it has none. */
export function extraPlace(c: Prepared, kind: Extra, at: number): number {
  const k = c.extras.indexOf(kind);
  return k < 0 ? -1 : at + k;
}

/** What is believed of bandwidths before the captures speak: places, and the standard deviation about 0. */
export const extraBeliefs = (
  prepared: readonly Prepared[],
  places: readonly number[],
): { readonly at: number; readonly spread: number }[] =>
  prepared.flatMap((c, k) => {
    const at = extraPlace(c, 'bandwidth', places[k]);
    return at < 0 ? [] : [{ at, spread: SPREAD }];
  });

/** Where a capture lies at a parameter vector; its extras begin at `at`. */
export function lineOf(c: Prepared, p: Float64Array, at: number): LineUp {
  const extra = (kind: Extra, absent: number): number => {
    const place = extraPlace(c, kind, at);
    return place < 0 ? absent : p[place];
  };
  const gain = extra('gain', c.line.gain);
  return {
    ...c.line,
    delay: c.line.delay + extra('shift', 0),
    offset: c.line.offset + extra('offset', 0),
    gain,
    polarity: gain < 0 ? -1 : 1,
  };
}

/** Hz through which a capture is seen at a parameter vector; Infinity where nothing shows. */
export function bandwidthAt(c: Prepared, p: Float64Array, at: number): number {
  const place = extraPlace(c, 'bandwidth', at);
  return place < 0 ? c.bandwidth : c.bandwidth * Math.exp(p[place]);
}
