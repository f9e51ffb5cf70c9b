import { formatQuantity } from '../../base/format-quantity.ts';
import { casesWords } from '../shared/cases-words.ts';
import type { Column, PointResult, StudyPlan } from '../shared/shape.ts';
import type { Axis } from './axes.ts';
import type { ShmooOptions } from './shmoo-options.ts';

export const COLUMNS: readonly Column[] = [
  { key: 'line', label: 'line', unit: 'text' },
  { key: 'at', label: 'held at', unit: '', unitKey: 'atUnit' },
  { key: 'evaluated', label: 'windows computed', unit: '' },
  { key: 'passing', label: 'of these passing', unit: '' },
  { key: 'edgeLow', label: 'passes from', unit: '', unitKey: 'edgeUnit' },
  { key: 'edgeHigh', label: 'passes to', unit: '', unitKey: 'edgeUnit' },
  { key: 'bestMargin', label: 'greatest margin', unit: 'V' },
];

/** @param refused why a place of the plane could not be built; undefined where all could */
export function shmooFindings(
  plan: StudyPlan<ShmooOptions>,
  x: Axis,
  y: Axis,
  results: readonly PointResult[],
  refused: string | undefined,
): string[] {
  const along = (line: string): PointResult | undefined => results.find(({ values }) => values.line === line);
  return [
    ...operatingFinding(x, along('operating x')),
    ...operatingFinding(y, along('operating y')),
    casesWords(plan, plan.options.history),
    ...(refused === undefined ? [] : [`Some places could not be built, and count as failing: ${refused}`]),
  ];
}

function operatingFinding(axis: Axis, result: PointResult | undefined): string[] {
  if (!result) return [];
  const { label, unit } = axis.input;
  const nominal = formatQuantity(axis.nominal, unit);
  if (result.values.passing === 0) return [`At the nominal ${label} of ${nominal} the design does not pass.`];
  const end = (value: unknown, limit: number, word: string): string =>
    typeof value === 'number'
      ? `${word} ${formatQuantity(value, unit)}${percent(value, axis.nominal, unit)}`
      : `${word} ${formatQuantity(limit, unit)} and beyond`;
  return [
    `Operating margins of ${label} about ${nominal}: ${end(result.values.edgeLow, axis.from, 'from')} ${end(result.values.edgeHigh, axis.to, 'to')}.`,
  ];
}

/** ` (−8.1 %)`; nothing where per cent of the nominal means nothing. */
function percent(value: number, nominal: number, unit: string): string {
  if (unit === '°C' || nominal === 0) return '';
  const change = (value / nominal - 1) * 100;
  return ` (${change < 0 ? '−' : '+'}${Math.abs(change).toFixed(1)} %)`;
}
