import { traceChart, type TraceChart } from '../../charts/trace-chart.ts';
import { inLanguage, type ChartSize } from '../result-chart.ts';
import type { Words } from '../words/shape.ts';

/** Axes to draw on, without a line. */
export function emptyChart(
  words: Words,
  {
    id,
    name,
    at,
    span,
  }: {
    readonly id: string;
    readonly name: string;
    readonly at: readonly number[];
    readonly span: { readonly low: number; readonly high: number };
  },
  size: ChartSize,
): TraceChart {
  const chart = traceChart({
    id: `draw-${id}`,
    ...size,
    name,
    time: { from: at[0]!, to: at.at(-1)! },
    value: span,
    quantity: { symbol: 'u', unit: 'V' },
    lines: [],
  });
  inLanguage(words, chart.node);
  return chart;
}
