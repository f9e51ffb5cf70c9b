import { axisPrefix, prefixIn } from '../charts/prefix.ts';
import type { ChartData, Column } from './chart-data.ts';

/** Units that take a prefix. */
const PREFIXED = ['s', 'V', 'A', 'Wb', 'Hz'];

/**
 * The columns in the units that the axes of their plot have, so that a figure of the table is found on the plot; in a
 * prefix of their own where the plot has no axis of that unit. Files keep SI units.
 */
export function inUnitsOfPlot({
  columns,
  pictures,
}: Pick<ChartData, 'columns' | 'pictures'>): readonly Column[] {
  const drawn = pictures.flatMap(({ svg }) =>
    [...svg.querySelectorAll<SVGGElement>('.axis[data-unit]')].map((axis) => axis.dataset['unit']!),
  );
  const largest = (unit: string): number =>
    Math.max(
      ...columns
        .filter(({ title }) => title.endsWith(` / ${unit}`))
        .map(({ values }) => Array.from(values, (value) => Math.abs(Number(value))))
        .map((sizes) => sizes.reduce((most, size) => (size > most ? size : most), 0)),
    );
  return columns.map((column) => {
    const unit = PREFIXED.find((each) => column.title.endsWith(` / ${each}`));
    if (unit === undefined) return column;
    const { symbol, factor } =
      drawn.map((text) => prefixIn(text, unit)).find((found) => found !== undefined) ??
      axisPrefix(largest(unit));
    return {
      title: `${column.title.slice(0, -unit.length)}${symbol}${unit}`,
      values: Array.from(column.values, (value) => (typeof value === 'number' ? value / factor : value)),
    };
  });
}
