import { formatFigure, formatQuantity } from '../../base/format-quantity.ts';
import type { Unit } from '../../base/units.ts';
import type { Column, PointResult } from '../shared/shape.ts';

export const COLUMNS: readonly Column[] = [
  { key: 'input', label: 'input', unit: 'text' },
  { key: 'nominal', label: 'nominal (SI)', unit: '', unitKey: 'unit' },
  { key: 'change', label: 'change (SI)', unit: '', unitKey: 'changeUnit' },
  { key: 'margin', label: 'margin changes by', unit: 'V' },
  { key: 'width', label: 'window changes by', unit: 's' },
  { key: 'one', label: 'least ONE changes by', unit: 'V' },
  { key: 'zero', label: 'greatest ZERO changes by', unit: 'V' },
];

/** @param most the input that moves the margin most; undefined: none was tried */
export const mostFelt = (most: PointResult | undefined): string[] =>
  most === undefined
    ? []
    : [
        `The margin depends most on ${most.name}: ${formatQuantity(Number(most.values.margin), 'V', 2)} for ${changeText(most)}.`,
      ];

/** What was changed, and what it does to the width of the window. */
export const effectNote = (result: PointResult): string =>
  `for ${changeText(result)}; window ${formatFigure(Number(result.values.width), 's', 2)}`;

function changeText({ values }: PointResult): string {
  const unit = values.unit as Unit;
  const percent = Math.abs(Number(values.change) / Number(values.nominal) - 0.01) < 1e-9;
  return percent ? '+1 %' : `+${formatQuantity(Number(values.change), unit === '°C' ? 'K' : unit)}`;
}
