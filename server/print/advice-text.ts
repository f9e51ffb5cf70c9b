import type { Advice, Unit } from '../../engine/index.ts';
import { formatQuantity } from '../../engine/index.ts';
import { textTable } from './table.ts';

const volt = (value: number): string => formatQuantity(value, 'V');
const second = (value: number): string => formatQuantity(value, 's');

/** What uses the margin up, and which single change would bring what is wanted. */
export function adviceText({ wanted, has, met, costs, changes, failed }: Advice): string {
  if (failed !== undefined) return `No advice: ${failed}\n`;
  const both = (of: { margin: number; width: number }): string =>
    `${volt(of.margin)} beyond the uncertainty and a window of ${second(of.width)}`;
  const parts = [`Wanted ${both(wanted)}; there is ${both(has)}: ${met ? 'met' : 'not met'}.\n`];
  const rows = costs.map(({ label, unit, tolerance, takes }) => [
    label,
    formatQuantity(tolerance, unit),
    volt(takes),
  ]);
  if (rows.length > 0)
    parts.push(`What uses the margin up\n${textTable([['', 'tolerance', 'takes'], ...rows])}`);
  if (!met) {
    const lines = changes.map(({ label, unit, from, to, gives }) => [
      label,
      valueText(from, unit),
      to === undefined ? 'does not reach it' : valueText(to, unit),
      volt(gives.margin),
      second(gives.width),
    ]);
    parts.push(`One change alone\n${textTable([['', 'now', 'change to', 'margin', 'window'], ...lines])}`);
  }
  return parts.join('\n');
}

const valueText = (value: number | string, unit: Unit | undefined): string =>
  typeof value === 'string' ? value : formatQuantity(value, unit ?? '1', 4);
