import { formatQuantity } from '../../base/format-quantity.ts';
import { mean } from '../../numerics/statistics.ts';
import { casesWords } from '../shared/cases-words.ts';
import { makeSeries } from '../shared/series.ts';
import type { Column, PointResult, Series, StudyPlan } from '../shared/shape.ts';
import type { TemperatureOptions } from './temperature-options.ts';

export const COLUMNS: readonly Column[] = [
  { key: 'celsius', label: 'temperature', unit: '°C' },
  { key: 'steadyFixed', label: 'margin, steady drive, fixed strobe', unit: 'V' },
  { key: 'steadyBest', label: 'margin, steady drive, best strobe', unit: 'V' },
  { key: 'trackedFixed', label: 'margin, tracking drive, fixed strobe', unit: 'V' },
  { key: 'trackedBest', label: 'margin, tracking drive, best strobe', unit: 'V' },
  { key: 'bestStrobe', label: 'best strobe, steady drive', unit: 's' },
  { key: 'trackedStrobe', label: 'best strobe, tracking drive', unit: 's' },
  { key: 'driveLow', label: 'least drive per line', unit: 'A' },
  { key: 'driveHigh', label: 'greatest drive per line', unit: 'A' },
  { key: 'recommended', label: 'recommended drive per line', unit: 'A' },
  { key: 'below', label: 'limit below', unit: 'text' },
  { key: 'above', label: 'limit above', unit: 'text' },
];

/** What bounds the region of drives where no failing reading does. */
export const NO_DRIVE = 'no drive in the range works';
export const END_OF_RANGE = 'works to the end of the range';

/** @param sorted results by temperature */
export const temperatureFindings = (
  plan: StudyPlan<TemperatureOptions>,
  sorted: readonly PointResult[],
): string[] => [
  ...region(sorted),
  ...recommendation(sorted),
  ...coverage(sorted, plan.options.coefficient),
  casesWords(plan, 0),
];

/** @param sorted results by temperature */
export function temperatureSeries(sorted: readonly PointResult[]): Series[] {
  const line = (
    key: string,
    name: string,
    panel: string,
    label: string,
    unit: string,
    role: Series['role'] = 'data',
  ): Series =>
    makeSeries(
      sorted,
      { label: 'temperature', unit: '°C', value: 'celsius' },
      { key, name, panel, label, unit, role },
    );
  return [
    line('steadyFixed', 'steady drive, fixed strobe', 'margin', 'margin', 'V'),
    line('steadyBest', 'steady drive, best strobe', 'margin', 'margin', 'V'),
    line('trackedFixed', 'tracking drive, fixed strobe', 'margin', 'margin', 'V'),
    line('trackedBest', 'tracking drive, best strobe', 'margin', 'margin', 'V'),
    line('driveLow', 'false ZERO below', 'drive that works', 'drive per line', 'A', 'limit'),
    line('driveHigh', 'disturbed ZERO above', 'drive that works', 'drive per line', 'A', 'limit'),
    line('recommended', 'recommended', 'drive that works', 'drive per line', 'A'),
    line('bestStrobe', 'steady drive', 'best strobe', 'strobe', 's'),
    line('trackedStrobe', 'tracking drive', 'best strobe', 'strobe', 's'),
  ];
}

/** The region's ends at the coldest and the warmest, and what bounds it on either side. */
function region(results: readonly PointResult[]): string[] {
  const known = results.filter((result) => typeof result.values.driveLow === 'number');
  const [first, last] = [known[0], known.at(-1)];
  if (!first || !last) return ['No drive in the range works at any of the temperatures.'];
  const ends = ({ values }: PointResult): string =>
    `${formatQuantity(Number(values.driveLow), 'A')} to ${formatQuantity(Number(values.driveHigh), 'A')} per line at ${formatQuantity(Number(values.celsius), '°C')}`;
  const bounds = (key: 'below' | 'above'): string =>
    [...new Set(known.map((result) => String(result.values[key])))].join(', or ');
  return [
    `Drive that works with the strobe fixed: ${ends(first)}${known.length > 1 ? `, ${ends(last)}` : ''}. Bounded below by: ${bounds('below')}; above by: ${bounds('above')}.`,
  ];
}

/** Straight line through the middles of the region, about 25 °C. */
function recommendation(results: readonly PointResult[]): string[] {
  const known = results.filter((result) => typeof result.values.recommended === 'number');
  if (known.length < 2) return [];
  const t = known.map((result) => Number(result.values.celsius) - 25);
  const d = known.map((result) => Number(result.values.recommended));

  const [mt, md] = [mean(t), mean(d)];
  const slope =
    t.reduce((sum, value, i) => sum + (value - mt) * (d[i]! - md), 0) /
    t.reduce((sum, value) => sum + (value - mt) ** 2, 0);
  const at25 = md - slope * mt;
  return [
    `Recommended drive per line: ${formatQuantity(at25, 'A')} at 25 °C, changing by ${formatQuantity(slope / at25, '1/K', 2)} (straight line through the middle of the region that works with the strobe fixed).`,
  ];
}

function coverage(results: readonly PointResult[], coefficient: number): string[] {
  const range = (key: string): string => {
    const passing = results
      .filter((result) => result.values[key] === true)
      .map((result) => Number(result.values.celsius));
    if (passing.length === 0) return 'at none of the temperatures';
    if (passing.length === results.length) return 'at all of the temperatures';
    return `at ${passing.map((celsius) => formatQuantity(celsius, '°C')).join(', ')}`;
  };
  return [
    `With a fixed strobe and steady drive the requirement is met ${range('steadyFixedPass')}; with drives that follow by ${formatQuantity(coefficient, '1/K', 2)}, ${range('trackedFixedPass')}.`,
  ];
}
