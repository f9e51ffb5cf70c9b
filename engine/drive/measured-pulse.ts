import type { DriveTable } from '../design/drive.ts';

/** A current pulse as an instrument saw it, read off once. Times in s from the table's first instant. */
export interface MeasuredPulse {
  /** A: the current that, standing for `width`, carries the same charge; what an amplitude means. */
  readonly top: number;
  /** First and last crossing of half of it lie at halfOn and halfOn + width. */
  readonly halfOn: number;
  readonly width: number;
  /** 0 to 100 %, from the crossings of 10 and 90 %. */
  readonly rise: number;
  readonly fall: number;
  readonly length: number;
  /** Current over `top` at a time; 0 outside the table. */
  readonly at: (t: number) => number;
  /** Where its slope jumps: the points of a drawn table; those of a capture (over MAX_CORNERS) are samples, and it is smooth. */
  readonly corners: readonly number[];
}

/** Points up to which a table is a drawing, straight between its points. */
const MAX_CORNERS = 40;

const known = new WeakMap<DriveTable, MeasuredPulse>();

/** What a table of a pulse says. Points are in order of time and the current starts and ends near nothing (checkDesign). */
export function measuredPulse(table: DriveTable): MeasuredPulse {
  let pulse = known.get(table);
  if (!pulse) {
    pulse = readOff(table);
    known.set(table, pulse);
  }
  return pulse;
}

function readOff({ points, time, current }: DriveTable): MeasuredPulse {
  const t = Float64Array.from(points, ([instant]) => (instant - points[0]![0]) * time);
  const i = Float64Array.from(points, ([, value]) => value * current);
  const last = t.length - 1;
  let charge = 0;
  for (let k = 1; k <= last; k++) charge += ((i[k]! + i[k - 1]!) / 2) * (t[k]! - t[k - 1]!);
  const first = (level: number): number => crossing(t, i, level, 1);
  const final = (level: number): number => crossing(t, i, level, -1);
  // The half-amplitude points depend on the top and the top on them; from the greatest current it settles at once.
  let top = i.reduce((a, b) => Math.max(a, b));
  for (let n = 0; n < 4; n++) top = Math.min(top, charge / (final(top / 2) - first(top / 2)));
  const halfOn = first(top / 2);
  const shape = i.map((value) => value / top);
  const drawn = t.length <= MAX_CORNERS;
  return {
    top,
    halfOn,
    width: final(top / 2) - halfOn,
    rise: (first(0.9 * top) - first(0.1 * top)) / 0.8,
    fall: (final(0.1 * top) - final(0.9 * top)) / 0.8,
    length: t[last]!,
    ...(drawn ? { at: straight(t, shape), corners: [...t] } : { at: smooth(t, shape), corners: [] }),
  };
}

/** First (from the front) or last (from the back) instant at which the current passes a level, straight between points. */
function crossing(t: Float64Array, i: Float64Array, level: number, step: 1 | -1): number {
  let k = step > 0 ? 0 : t.length - 1;
  while (k + step >= 0 && k + step < t.length && i[k + step]! < level) k += step;
  const n = Math.min(t.length - 1, Math.max(0, k + step));
  return i[n] === i[k] ? t[n]! : t[k]! + ((level - i[k]!) / (i[n]! - i[k]!)) * (t[n]! - t[k]!);
}

/**
 * Cubic between points with a slope at each that overshoots none of them: the harmonic mean of its neighbours' (a
 * choice of Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5, 1984, pp. 300-304; the citation is from memory). A
 * slope that jumped at every sample would send a front along the wire from each.
 */
function smooth(t: Float64Array, y: Float64Array): (at: number) => number {
  const last = t.length - 1;
  const secant = (k: number): number => (y[k + 1]! - y[k]!) / (t[k + 1]! - t[k]!);
  const slope = Float64Array.from(t, (_, k) => {
    if (k === 0 || k === last) return 0;
    const [a, b] = [secant(k - 1), secant(k)];
    return a * b > 0 ? (2 * a * b) / (a + b) : 0;
  });
  return (at) => {
    if (at <= 0 || at >= t[last]!) return 0;
    const low = before(t, at);
    const high = low + 1;
    const h = t[high]! - t[low]!;
    const x = (at - t[low]!) / h;
    const [a, b] = [h * slope[low]!, h * slope[high]!];
    const rest = y[high]! - y[low]!;
    return y[low]! + x * (a + x * (3 * rest - 2 * a - b + x * (a + b - 2 * rest)));
  };
}

const straight =
  (t: Float64Array, y: Float64Array): ((at: number) => number) =>
  (at) => {
    if (at <= 0 || at >= t[t.length - 1]!) return 0;
    const k = before(t, at);
    return y[k]! + ((y[k + 1]! - y[k]!) * (at - t[k]!)) / (t[k + 1]! - t[k]!);
  };

/** Index of the last point at or before a time inside the table, never the very last. */
function before(t: Float64Array, at: number): number {
  let low = 0;
  let high = t.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (t[middle]! <= at) low = middle;
    else high = middle;
  }
  return low;
}
