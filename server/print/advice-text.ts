import type { Advice } from '../../engine/advice/advice.ts';
import type { Change } from '../../engine/advice/changes.ts';
import { beyondAdvice, judgedOver, perUnitText } from '../../engine/advice/words.ts';
import { formatFigure, formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import { textTable } from './table.ts';

const volt = (value: number): string => formatQuantity(value, 'V');
const second = (value: number): string => formatQuantity(value, 's');

/** What uses the margin up, and which single change would bring what is wanted. */
export function adviceText(advice: Advice): string {
  const { wanted, has, met, costs, changes, pairs, failed } = advice;
  if (failed !== undefined) return `No advice: ${failed}\n`;
  const both = (of: { margin: number; width: number }): string =>
    `${volt(of.margin)} beyond the uncertainty and a window of ${second(of.width)}`;
  const parts = [
    `Over ${judgedOver(advice)}: wanted ${both(wanted)}; there is ${both(has)}: ${met ? 'met' : 'not met'}. ${beyondAdvice(advice)}`.trimEnd() +
      '\n',
  ];
  const rows = costs.map(({ label, unit, onePerUnit, zeroPerUnit, widthPerUnit, tolerance, takes }) => [
    label,
    perUnitText(onePerUnit, 'V', unit),
    perUnitText(zeroPerUnit, 'V', unit),
    perUnitText(widthPerUnit, 's', unit),
    formatQuantity(tolerance, unit),
    formatFigure(takes, 'V'),
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
  if (pairs.length > 0) {
    const lines = pairs.map(([first, second]) => [
      `${first.label}: ${changeText(first)}`,
      `${second.label}: ${changeText(second)}`,
      volt(second.gives.margin),
      second.gives.width === 0 ? 'none' : formatQuantity(second.gives.width, 's'),
    ]);
    parts.push(`Two changes together\n${textTable([['first', 'and', 'margin', 'window'], ...lines])}`);
  } else if (!met && changes.every(({ to }) => to === undefined))
    parts.push('No single change that was tried reaches it, and no two together.\n');
  return parts.join('\n');
}

const changeText = ({ from, to, at, unit }: Change): string =>
  `${valueText(from, unit)} to ${valueText((to ?? at)!, unit)}`;

const valueText = (value: number | string, unit: Unit | undefined): string =>
  typeof value === 'string' ? value.replaceAll('-', ' ') : formatQuantity(value, unit ?? '1', 4);
