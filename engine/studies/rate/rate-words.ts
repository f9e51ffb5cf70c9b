import { formatPeriod, formatQuantity } from '../../base/format-quantity.ts';
import { casesWords } from '../shared/cases-words.ts';
import { makeSeries } from '../shared/series.ts';
import type { Column, PointResult, Series, StudyPlan } from '../shared/shape.ts';
import type { RateOptions } from './rate-options.ts';
import { ofWindow } from './read-period.ts';

export const COLUMNS: readonly Column[] = [
  { key: 'rate', label: 'cycle rate', unit: 'Hz' },
  { key: 'period', label: 'period', unit: 's' },
  { key: 'margin', label: 'margin', unit: 'V' },
  { key: 'width', label: 'strobe window', unit: 's' },
  { key: 'fallen', label: 'ZERO fallen before strobe', unit: 's' },
  { key: 'held', label: 'ONE held after strobe', unit: 's' },
  { key: 'tail', label: 'inhibit left at the strobe', unit: 'V' },
  { key: 'recovery', label: 'recovery after write', unit: 's' },
  { key: 'baseline', label: 'baseline lies lower by', unit: 'V' },
  { key: 'baselineNone', label: 'with no cycle inhibited', unit: 'V' },
  { key: 'baselineAll', label: 'with every cycle inhibited', unit: 'V' },
  { key: 'current', label: 'supply current', unit: 'A' },
  { key: 'dissipation', label: 'dissipation', unit: 'W' },
  { key: 'pass', label: 'works', unit: 'text' },
  { key: 'limit', label: 'limited by', unit: 'text' },
];

/** Under a nanovolt is rounding, not a result to draw. */
const isFelt = (results: readonly PointResult[], key: string): boolean =>
  results.some(({ values }) => Math.abs(Number(values[key])) > 1e-9);

/**
 * @param sorted points by rate, the fastest last
 * @param highest the search for the highest rate, once it is done
 */
export function rateFindings(
  plan: StudyPlan<RateOptions>,
  sorted: readonly PointResult[],
  highest: PointResult | undefined,
): string[] {
  const { from, to, fraction, history, inhibitedShare } = plan.options;
  return [
    ...(highest ? [String(highest.values.finding)] : []),
    ofWindow(plan)
      ? 'Margins are those of the strobe window as designed (set nominal), at each period: drive, supply and temperature at their ends are not in them.'
      : casesWords(plan, history),
    `Periods tried: ${formatPeriod(from)} to ${formatPeriod(to)}.`,
    `Recovered means under ${formatQuantity(fraction * 100, '1')} % of the threshold after the write.`,
    ...(sorted.length > 0 && !isFelt(sorted, 'tail')
      ? ['Nothing is left of the inhibit at the strobe (under 1 µV).']
      : []),
    ...baselineWords(sorted, inhibitedShare),
  ];
}

/** What the search for the highest rate found: s, the shortest period that works, or null where the design's own does not. */
export function highestWords(period: number | null, own: number, limit: string): string {
  if (period === null)
    return `At the design's own period of ${formatPeriod(own)} it does not work: ${limit}.`;
  const rate = formatQuantity(1 / period, 'Hz');
  return limit === ''
    ? `As designed it works at ${rate}, the highest rate that was tried.`
    : `Highest rate as designed ${rate} (period ${formatQuantity(period, 's')}), limited by ${limit}.`;
}

/** @param sorted points by rate */
export function rateSeries(plan: StudyPlan<RateOptions>, sorted: readonly PointResult[]): Series[] {
  const line = (
    key: string,
    panel: string,
    unit: string,
    name = panel,
    role: Series['role'] = 'data',
  ): Series =>
    makeSeries(
      sorted,
      { label: 'cycle rate', unit: 'Hz', value: 'rate' },
      { key, name, panel, label: panel, unit, role },
    );
  return [
    line('margin', 'margin', 'V'),
    line('width', 'strobe window', 's'),
    line('fallen', 'ZERO fallen before strobe', 's'),
    line('held', 'ONE held after strobe', 's'),
    ...(isFelt(sorted, 'tail') ? [line('tail', 'inhibit left at the strobe', 'V')] : []),
    line('recovery', 'recovery after write', 's'),
    ...(plan.options.inhibitedShare === null ? BASELINES : ONE_BASELINE).flatMap(([key, name]) =>
      isFelt(sorted, key) ? [line(key, 'baseline lies lower by', 'V', name)] : [],
    ),
    line('current', 'supply current', 'A', 'drawn'),
    line('budget', 'supply current', 'A', 'budget', 'limit'),
    line('dissipation', 'dissipation', 'W'),
  ];
}

const BASELINES = [
  ['baselineNone', 'no cycle inhibited'],
  ['baselineAll', 'every cycle inhibited'],
] as const;

const ONE_BASELINE = [['baseline', 'baseline']] as const;

/** @param sorted points by rate, the fastest last */
function baselineWords(sorted: readonly PointResult[], share: number | null): string[] {
  const fastest = sorted.at(-1)?.values;
  if (!fastest) return [];
  if (sorted.every(({ values }) => values.baseline === 0))
    return ['The baseline does not shift: the amplifier is DC coupled.'];
  const volts = (key: string): string => formatQuantity(Number(fastest[key]), 'V');
  const at = `At ${formatQuantity(Number(fastest.rate), 'Hz')}, after endless cycles, the baseline lies lower by`;
  return share === null
    ? [
        `${at} ${volts('baselineNone')} with no cycle inhibited and by ${volts('baselineAll')} with every one; margins are the least of both.`,
      ]
    : [`${at} ${volts('baseline')} with ${formatQuantity(share * 100, '1')} % of the cycles inhibited.`];
}
