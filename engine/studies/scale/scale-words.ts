import { formatQuantity } from '../../base/format-quantity.ts';
import type { WindingKind } from '../../design/mat.ts';
import type { Requirement } from '../../design/requirement.ts';
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
  { key: 'margin', label: 'margin as designed', unit: 'V' },
  { key: 'cornerMargin', label: 'margin at the corners', unit: 'V' },
  { key: 'width', label: 'strobe window', unit: 's' },
  { key: 'strobe', label: 'strobe', unit: 's' },
  { key: 'threshold', label: 'threshold', unit: 'V' },
  { key: 'delay', label: 'line delay, one way', unit: 's' },
  { key: 'attenuation', label: 'line attenuation', unit: 'dB' },
  { key: 'pass', label: 'meets the requirement', unit: 'text' },
  { key: 'reason', label: 'why not', unit: 'text' },
  { key: 'limit', label: 'limited by', unit: 'text' },
];

export function windingSeries(kind: WindingKind, mats: readonly PointResult[]): Series[] {
  const sorted = [...mats].sort((a, b) => Number(a.values.side) - Number(b.values.side));
  const line = (
    key: string,
    panel: string,
    label: string,
    unit: string,
    role: Series['role'] = 'data',
  ): Series =>
    makeSeries(
      sorted,
      { label: 'side of the mat in cores', unit: '', value: 'side' },
      { key, name: `${WORDS[kind]}${role === 'law' ? ', counting law' : ''}`, panel, label, unit, role },
    );
  return [
    line('halfSelectPeak', 'half-select noise, peak', 'u', 'V'),
    line('lawPeak', 'half-select noise, peak', 'u', 'V', 'law'),
    line('halfSelectAtStrobe', 'half-select noise at the strobe', 'u', 'V'),
    line('one', 'least ONE', 'u', 'V'),
    line('margin', 'margin as designed', 'margin', 'V'),
    line('cornerMargin', 'margin at the corners', 'margin', 'V'),
    line('width', 'strobe window', 'width', 's'),
    line('delay', 'line delay', 'delay', 's'),
    line('attenuation', 'line attenuation', 'attenuation', 'dB'),
  ];
}

/** V: what differs by less is no reason to thread a wire in another way. */
const ALIKE = 0.1e-3;

/** Margin that a mat is judged by: at the corners where they were run. */
const decisive = ({ values }: PointResult): number =>
  Number(values.cornerMargin ?? values.margin ?? -Infinity);

/**
 * The answer of the study: which winding leaves most from which size on, and what limits it there; and from which size on
 * none of them reads.
 */
export function answerWords(mats: readonly PointResult[]): string[] {
  const sides = [...new Set(mats.map(({ values }) => Number(values.side)))].sort((a, b) => a - b);
  let before: PointResult | undefined;
  const best = sides.map((side) => {
    const own = mats.filter(({ values }) => values.side === side);
    const most = Math.max(...own.map(decisive));
    const alike = own.filter((mat) => decisive(mat) >= most - ALIKE);
    // Of those that leave as much the one that led before, else the first, which is the easiest to thread.
    before = alike.find(({ values }) => values.winding === before?.values.winding) ?? alike[0]!;
    return { mat: before, others: alike.filter((mat) => mat !== before) };
  });
  const said: string[] = [];
  best.forEach(({ mat, others }, i) => {
    const earlier = best[i - 1]?.mat.values;
    const { winding, rows, columns, pass, limit } = mat.values;
    if (earlier?.winding === winding && earlier?.pass === pass) return;
    const at = `${i === 0 ? 'At' : 'From'} ${rows} × ${columns}${i === 0 ? '' : ' on'}`;
    const left = `${formatQuantity(decisive(mat), 'V', 3)} ${mat.values.cornerMargin === null ? 'as designed' : 'at the corners'}`;
    const what = WORDS[winding as WindingKind];
    const asGood = others.map(({ values }) => `"${WORDS[values.winding as WindingKind]}"`).join(', ');
    const too = asGood === '' ? '' : ` (as good: ${asGood})`;
    said.push(
      pass === true
        ? `${at} "${what}"${too} leaves most, ${left}; limited by ${limit}.`
        : `${at} none of these windings keeps what is required; "${what}"${too} comes nearest with ${left}, limited by ${limit}.`,
    );
  });
  return said;
}

/** What was held and what chosen anew, and which cases stand behind a margin. */
export function heldWords(options: Readonly<Record<string, unknown>>, mats: readonly PointResult[]): string {
  const chosen =
    options.strobe === 'fixed'
      ? 'Strobe and threshold are held at those of the design'
      : options.threshold === 'best'
        ? 'Strobe and threshold are chosen anew for each mat'
        : 'The strobe is chosen anew for each mat, the threshold is held at that of the design';
  const corners = mats.some(({ values }) => values.cornerMargin !== null)
    ? ', and the worst of either bit in each disturb state at all corners of drive, supply and temperature'
    : ', as designed: the corners are not asked for';
  return `${chosen}. Cases: the worst patterns at the selected core, the worst of them at other addresses and after other histories${corners}. A strobe window of one mat tries all of these together and may find less (of 64 × 64 mats 0.1 to 0.9 mV less, of those that fail at their corners up to 16 mV): ask for it before you build.`;
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
