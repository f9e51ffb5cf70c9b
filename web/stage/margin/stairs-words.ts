import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { SET_WORDS } from '../../../engine/strobe/verdict-words.ts';
import { tenths } from './stairs-chart.ts';
import type { StairEnd, Stairs } from './stairs.ts';

const volts = (value: number): string => formatQuantity(Math.abs(value), 'V', 3);

/** "At the corners: 6 mV clear". */
export function endWords({ set, left, heights }: StairEnd): string {
  const where = SET_WORDS[set];
  const least = Math.min(left.one, left.zero);
  if (least >= 0) return `${where}: ${volts(least)} clear`;
  if (heights.one <= heights.zero) return `${where}: ONE and ZERO cross`;
  return `${where}: ${left.one < left.zero ? 'ONE' : 'ZERO'} ${volts(least)} too ${left.one < left.zero ? 'low' : 'high'}`;
}

/** The stairs for readers who cannot see them. */
export function stairsSummary({ columns, ends }: Stairs): string {
  const steps = (side: 'one' | 'zero'): string =>
    columns
      .filter(({ stairs }) => Math.abs(stairs[side].to - stairs[side].from) >= 0.05e-3)
      .map(({ title, stairs }) => `${title} ${tenths(stairs[side].to - stairs[side].from)}`)
      .join(', ');
  const left = ends.map((end) => `${endWords(end)}.`).join(' ');
  return `Steps of the least ONE in mV: ${steps('one')}. Of the greatest ZERO: ${steps('zero') || 'none'}. ${left}`;
}
