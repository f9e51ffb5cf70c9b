import { formatFigure, formatQuantity } from '../../engine/base/format-quantity.ts';
import { DIMENSIONS, type Unit } from '../../engine/base/units.ts';
import type { Column, PointResult, StudyResult } from '../../engine/studies/shared/shape.ts';
import { textTable } from './table.ts';

/** A study for a reader: what was found, with its intervals, then the table, then what failed. */
export function studyText(study: StudyResult): string {
  const { count, columns, results } = study;
  const parts = [
    `Study ${study.kind}, seed ${study.seed}: ${count.done} of ${count.planned} points${study.partial ? ' (partial)' : ''}` +
      `${count.failed === 0 ? '' : `, ${count.failed} failed`}\n`,
  ];
  if (study.findings.length > 0) parts.push(study.findings.map((finding) => `${finding}\n`).join(''));
  if (study.estimates.length > 0) {
    const rows = study.estimates.map(({ label, unit, value, low, high, interval, samples, seed }) => [
      label,
      quantity(value, unit),
      `${quantity(low, unit)} to ${quantity(high, unit)}`,
      `${interval}, ${samples} samples, seed ${seed}`,
    ]);
    parts.push(textTable(rows, ''));
  }
  if (study.ranking.length > 0) {
    parts.push(
      textTable(
        study.ranking.map(({ name, value, unit, note }) => [
          name,
          unit === '' ? formatQuantity(value, '1', 2) : quantity(value, unit),
          note,
        ]),
        '',
      ),
    );
  }
  const done = results.filter(({ failed }) => failed === undefined);
  if (columns.length > 0 && done.length > 0) {
    const rows = done.slice(0, SHOWN).map(({ values }) => columns.map((column) => cell(values, column)));
    parts.push(textTable([columns.map(({ label }) => label.replace(' (SI)', '')), ...rows], ''));
    if (done.length > SHOWN)
      parts.push(`${done.length - SHOWN} more points: --format csv or json gives all.\n`);
  }
  if (study.failed.length > 0) {
    parts.push(
      `Failed\n${study.failed
        .slice(0, SHOWN)
        .map(({ name, message }) => `  ${name}: ${message}\n`)
        .join('')}`,
    );
  }
  return parts.join('\n');
}

const SHOWN = 60;

function cell(values: PointResult['values'], { key, unit, unitKey }: Column): string {
  const value = values[key];
  if (value === null || value === undefined) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'number' ? quantity(value, unitKey ? String(values[unitKey]) : unit) : value;
}

/** A number in a unit that the engine prints, or plainly with the unit as it stands. */
function quantity(value: number, unit: string): string {
  if (unit === '') return Number.isInteger(value) ? String(value) : formatQuantity(value, '1');
  if (Object.hasOwn(DIMENSIONS, unit)) return formatFigure(value, unit as Unit);
  return `${formatQuantity(value, '1')} ${unit}`;
}
