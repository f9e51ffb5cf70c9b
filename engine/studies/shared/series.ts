import type { PointResult, Series } from './shape.ts';

/** What lies across a chart: a value of each result by its key, or by the result itself. */
export interface Across {
  readonly label: string;
  readonly unit: string;
  readonly value: string | ((result: PointResult, index: number) => number);
}

/** What is drawn over it: the column `key`, in the panel of that name. */
export interface Drawn {
  readonly key: string;
  readonly name: string;
  readonly panel: string;
  readonly label: string;
  readonly unit: string;
  /** Default: 'data'. */
  readonly role?: Series['role'];
}

/** A line of a chart over results in their order; a value that is no number leaves a gap. */
export function makeSeries(results: readonly PointResult[], across: Across, drawn: Drawn): Series {
  const { value } = across;
  const x = typeof value === 'string' ? (result: PointResult): number => Number(result.values[value]) : value;
  return {
    name: drawn.name,
    panel: drawn.panel,
    xLabel: across.label,
    xUnit: across.unit,
    yLabel: drawn.label,
    yUnit: drawn.unit,
    x: results.map(x),
    y: results.map(({ values }) => {
      const y = values[drawn.key];
      return typeof y === 'number' ? y : null;
    }),
    point: results.map(({ index }) => index),
    role: drawn.role ?? 'data',
  };
}
