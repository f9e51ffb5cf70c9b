import type { Advice, Unit } from '../../engine/index.ts';
import { formatQuantity, perUnitText } from '../../engine/index.ts';
import { textTable } from './table.ts';

const volt = (value: number): string => formatQuantity(value, 'V');
const second = (value: number): string => formatQuantity(value, 's');

/** What uses the margin up, and which single change would bring what is wanted. */
export function adviceText({ wanted, has, met, costs, changes, failed }: Advice): string {
  if (failed !== undefined) return `No advice: ${failed}\n`;
  const both = (of: { margin: number; width: number }): string =>
    `${volt(of.margin)} beyond the uncertainty and a window of ${second(of.width)}`;
  const parts = [`Wanted ${both(wanted)}; there is ${both(has)}: ${met ? 'met' : 'not met'}.\n`];
  const rows = costs.map(({ label, unit, onePerUnit, zeroPerUnit, widthPerUnit, tolerance, takes }) => [
    label,
    perUnitText(onePerUnit, 'V', unit),
    perUnitText(zeroPerUnit, 'V', unit),
    perUnitText(widthPerUnit, 's', unit),
    formatQuantity(tolerance, unit),
    volt(takes),
  ]);
  if (rows.length > 0)
    parts.push(
      `What uses the margin up\n${textTable([['', 'margin of a ONE', 'margin of a ZERO', 'width', 'tolerance', 'takes'], ...rows])}`,
    );
  if (!met) {
    const lines = changes.map(({ label, unit, from, to, gives, at }) => [
      label,
      valueText(from, unit),
      to === undefined
        ? `does not reach it${at === undefined ? '' : `, best at ${valueText(at, unit)}`}`
        : valueText(to, unit),
      Number.isFinite(gives.margin) ? volt(gives.margin) : 'refused',
      second(gives.width),
    ]);
    parts.push(`One change alone\n${textTable([['', 'now', 'change to', 'margin', 'window'], ...lines])}`);
  }
  return parts.join('\n');
}

const valueText = (value: number | string, unit: Unit | undefined): string =>
  typeof value === 'string' ? value.replaceAll('-', ' ') : formatQuantity(value, unit ?? '1', 4);
