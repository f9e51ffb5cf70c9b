import { formatQuantity } from '../../base/format-quantity.ts';
import type { Requirement, WindingKind } from '../../design/design.ts';
import { makeSeries } from '../shared/series.ts';
import type { Column, PointResult, Series } from '../shared/shape.ts';

export const WORDS: Readonly<Record<WindingKind, string>> = {
  'shared-one-run': 'shared, one run',
  'shared-two-halves': 'shared, two halves',
  'separate-diagonal': 'separate, diagonal',
  'separate-rectangular': 'separate, rectangular',
  custom: 'custom',
};

export const COLUMNS: readonly Column[] = [
  { key: 'winding', label: 'winding', unit: 'text' },
  { key: 'rows', label: 'rows', unit: '' },
  { key: 'columns', label: 'columns', unit: '' },
  { key: 'halfSelected', label: 'half-selected cores', unit: '' },
  { key: 'halfSelectPeak', label: 'half-select noise, peak', unit: 'V' },
  { key: 'lawPeak', label: 'counting law, peak', unit: 'V' },
  { key: 'lawHalfSpread', label: 'counting law, half-spread over patterns', unit: 'V' },
  { key: 'halfSelectAtStrobe', label: 'half-select noise at the strobe', unit: 'V' },
  { key: 'one', label: 'least ONE at the strobe', unit: 'V' },
  { key: 'zero', label: 'greatest ZERO at the strobe', unit: 'V' },
  { key: 'margin', label: 'margin', unit: 'V' },
  { key: 'width', label: 'strobe window', unit: 's' },
  { key: 'strobe', label: 'strobe', unit: 's' },
  { key: 'delay', label: 'line delay, one way', unit: 's' },
  { key: 'attenuation', label: 'line attenuation', unit: 'dB' },
  { key: 'pass', label: 'meets the requirement', unit: 'text' },
  { key: 'reason', label: 'why not', unit: 'text' },
];

export function windingSeries(kind: WindingKind, mats: readonly PointResult[]): Series[] {
  const sorted = [...mats].sort((a, b) => Number(a.values.halfSelected) - Number(b.values.halfSelected));
  const line = (
    key: string,
    panel: string,
    label: string,
    unit: string,
    role: Series['role'] = 'data',
  ): Series =>
    makeSeries(
      sorted,
      { label: 'half-selected cores', unit: '', value: 'halfSelected' },
      { key, name: `${WORDS[kind]}${role === 'law' ? ', counting law' : ''}`, panel, label, unit, role },
    );
  return [
    line('halfSelectPeak', 'half-select noise, peak', 'u', 'V'),
    line('lawPeak', 'half-select noise, peak', 'u', 'V', 'law'),
    line('halfSelectAtStrobe', 'half-select noise at the strobe', 'u', 'V'),
    line('one', 'least ONE', 'u', 'V'),
    line('margin', 'margin', 'margin', 'V'),
    line('width', 'strobe window', 'width', 's'),
    line('delay', 'line delay', 'delay', 's'),
    line('attenuation', 'line attenuation', 'attenuation', 'dB'),
  ];
}

/**
 * What the search for the largest mat of a winding found, in words.
 *
 * @param good side of the largest that keeps what is required; 0: not even the smallest does
 * @param fails side of the next that was tried, and why it fails; undefined: there was none
 */
export function largestWords(
  kind: WindingKind,
  { margin, width }: Requirement,
  good: number,
  fails: { readonly side: number; readonly reason: string | undefined } | undefined,
): string {
  const wanted = `${formatQuantity(margin, 'V')} of margin and ${formatQuantity(width, 's')} of window`;
  const size = (side: number): string => `${side} × ${side}`;
  const head = `${WORDS[kind]}:`;
  if (fails === undefined) return `${head} ${size(good)}, the largest that is tried, keeps ${wanted}.`;
  return good === 0
    ? `${head} even a ${size(fails.side)} mat does not keep ${wanted} (${fails.reason}).`
    : `${head} the largest square mat that keeps ${wanted} is ${size(good)}; ${size(fails.side)} fails (${fails.reason}).`;
}
