import { formatQuantity } from '../base/format-quantity.ts';
import type { WindingKind } from '../design/mat.ts';
import type { Combination } from './combinations.ts';
import type { ValueRange } from './moves.ts';

/** What a build is called, on the command line and on the page, and what its values are. */

const WINDINGS: Readonly<Record<WindingKind, string>> = {
  'shared-one-run': 'one run',
  'shared-two-halves': 'two halves',
  'separate-diagonal': 'fourth wire, diagonal',
  'separate-rectangular': 'fourth wire, rectangular',
  custom: 'a winding of its own',
};

/** "two halves, 16 × 16, 1 amplifier a bit"; with the core's number where there are several. */
export function combinationWords(c: Combination, cores = 1): string {
  const core = cores > 1 ? `, core ${c.core + 1}` : '';
  return `${WINDINGS[c.winding]}, ${c.rows} × ${c.columns}, ${c.amplifiers} amplifier${c.amplifiers === 1 ? '' : 's'} a bit${core}`;
}

export const reserveWords = (reserve: number): string => `${Math.round(100 * reserve)} %`;

/** "half-select current 330 mA (322 mA to 338 mA)": a value with how far it may move by itself. */
export const rangeWords = ({ label, unit, value, low, high }: ValueRange): string => {
  const q = (each: number): string => formatQuantity(each, unit, 3);
  return `${label} ${q(value)} (${q(low)} to ${q(high)})`;
};

/** "1-shared-two-halves-16x16.json": what the file of a proposed design is called. */
export function proposalFileName(number: number, c: Combination): string {
  const amplifiers = c.amplifiers === 1 ? '' : `-${c.amplifiers}-amplifiers`;
  const core = c.core === 0 ? '' : `-core-${c.core + 1}`;
  return `${number}-${c.winding}-${c.rows}x${c.columns}${amplifiers}${core}.json`;
}
