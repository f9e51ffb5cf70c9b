import type { Mat, WindingKind } from '../design/mat.ts';

/**
 * What the half-selected cores of one read can add up to, by counting alone: exact, whatever the core's shape of
 * pulse. A half-selected core answers `large` or `small` volts, depending on its stored bit and its history; a core
 * of the selected core's polarity adds, one of the other polarity subtracts.
 *
 * The counts 7 and 63 of half-selected cores per line of 8 and 64 agree with US patent 3,646,531 (1972).
 */

/** Half-selected cores of a read by polarity relative to the selected core's. */
export interface HalfSelectCounts {
  readonly same: number;
  readonly opposite: number;
}

/** Extremes of the sum over all stored patterns, V; halfSpread = (high - low) / 2. */
export interface HalfSelectExtremes {
  readonly high: number;
  readonly low: number;
  readonly halfSpread: number;
}

/** Which lines have as many cores of one polarity as of the other. */
export type Balance = 'rows-and-columns' | 'rows-only' | 'none';

/**
 * Counts for a winding of the given balance. A balanced line of n cores has n/2 - 1 others of the selected core's
 * polarity and n/2 of the other; a line that is not balanced has all n - 1 others of the same.
 */
export function halfSelectCounts(balance: Balance, rows: number, columns: number): HalfSelectCounts {
  const inRow = balance === 'none' ? 0 : columns / 2;
  const inColumn = balance === 'rows-and-columns' ? rows / 2 : 0;
  return { same: columns - 1 - inRow + (rows - 1 - inColumn), opposite: inRow + inColumn };
}

/** The balance that a named winding has; undefined for a custom one, which is counted. */
export function balanceOf(kind: WindingKind): Balance | undefined {
  if (kind === 'custom') return undefined;
  return kind === 'shared-one-run' ? 'none' : 'rows-and-columns';
}

/** Counts of any winding by looking at its polarity (row-major, +1 or -1) along the selected row and column. */
export function countHalfSelected(
  polarity: ArrayLike<number>,
  mat: Pick<Mat, 'rows' | 'columns'>,
  selected: { readonly row: number; readonly column: number },
): HalfSelectCounts {
  const own = polarity[selected.row * mat.columns + selected.column]!;
  let same = 0;
  let opposite = 0;
  forEachHalfSelected(mat, selected, (core) => {
    if (polarity[core] === own) same++;
    else opposite++;
  });
  return { same, opposite };
}

/**
 * Extremes over all stored patterns: high = same v_L - opposite v_S, low = same v_S - opposite v_L, so that the
 * half-spread is (same + opposite)/2 (v_L - v_S) for any winding.
 *
 * @param large, small answers of a half-selected core that differ by its stored bit, in any unit, large >= small
 */
export function halfSelectExtremes(
  counts: HalfSelectCounts,
  large: number,
  small: number,
): HalfSelectExtremes {
  return {
    high: counts.same * large - counts.opposite * small,
    low: counts.same * small - counts.opposite * large,
    halfSpread: ((counts.same + counts.opposite) * (large - small)) / 2,
  };
}

/** The sum for one stored pattern: a stored ONE answers `large`, a ZERO `small`, signed by relative polarity. */
export function halfSelectSum(
  polarity: ArrayLike<number>,
  bits: ArrayLike<number>,
  mat: Pick<Mat, 'rows' | 'columns'>,
  selected: { readonly row: number; readonly column: number },
  large: number,
  small: number,
): number {
  const own = polarity[selected.row * mat.columns + selected.column]!;
  let sum = 0;
  forEachHalfSelected(mat, selected, (core) => {
    sum += own * polarity[core]! * (bits[core] ? large : small);
  });
  return sum;
}

/** Half-selected cores that one amplifier hears when the wire is cut into blocks of the given size. */
export const halfSelectedInSegment = (rows: number, columns: number): number => rows - 1 + (columns - 1);

function forEachHalfSelected(
  mat: Pick<Mat, 'rows' | 'columns'>,
  selected: { readonly row: number; readonly column: number },
  visit: (core: number) => void,
): void {
  for (let c = 0; c < mat.columns; c++) if (c !== selected.column) visit(selected.row * mat.columns + c);
  for (let r = 0; r < mat.rows; r++) if (r !== selected.row) visit(r * mat.columns + selected.column);
}
