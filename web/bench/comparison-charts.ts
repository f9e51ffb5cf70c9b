import type { Comparison } from '../../engine/fitting/comparison.ts';
import { extent } from '../charts/decimate.ts';
import { paddedSpan, type TimeSpan } from '../charts/spaces.ts';
import { traceChart } from '../charts/trace-chart.ts';
import { evenly } from '../model/measured-trace.ts';

export interface ComparisonChartOptions {
  readonly comparison: Comparison;
  readonly bit: 0 | 1;
  readonly span: TimeSpan;
  readonly fit: 'signal' | 'all';
  /** V, greatest of the selected core's part. */
  readonly signal: number;
  readonly signalTime: number;
  readonly width: number;
  readonly em: number;
}

/** Measured over predicted, and below it what is left, on the same time axis. */
export function comparisonCharts(options: ComparisonChartOptions): {
  readonly both: SVGSVGElement;
  readonly difference: SVGSVGElement;
} {
  const { comparison, bit, span, fit, signal, signalTime, width, em } = options;
  const { time } = comparison;
  const measured = evenly(time, comparison.measured);
  const predicted = evenly(time, comparison.predicted);
  const left = evenly(time, comparison.difference);
  const [low, high] = union(extent(measured, span.from, span.to), extent(predicted, span.from, span.to));
  const room = 1.6 * signal;
  const value =
    fit === 'all' ? paddedSpan(low, high) : paddedSpan(Math.max(low, -room), Math.min(high, room));
  const common = { width, em, time: span, quantity: { symbol: 'u', unit: 'V' } };
  const near = Math.min(Math.max(signalTime, span.from), span.to);
  const style = bit === 1 ? 'one' : 'zero';
  const both = traceChart({
    ...common,
    id: 'bench-both',
    height: Math.max(240 * em, Math.min(380 * em, width * 0.5)),
    name: 'Measured over predicted sense voltage against time from the start of read',
    value,
    lines: [
      { style, samples: predicted },
      { style: 'measured', samples: measured },
    ],
    labels: [
      { text: `predicted ${bit === 1 ? 'ONE' : 'ZERO'}`, samples: predicted, side: 'above', near },
      { text: 'measured', samples: measured, side: 'below', near },
    ],
  }).node;
  const [least, most] = union(extent(left, span.from, span.to), undefined);
  const noise = 3 * comparison.noise;
  const difference = traceChart({
    ...common,
    id: 'bench-left',
    height: 150 * em,
    name: 'Measured minus predicted against time from the start of read',
    value: paddedSpan(Math.min(least, -1.3 * noise), Math.max(most, 1.3 * noise)),
    lines: [{ style: 'measured', samples: left }],
    levels: [noise, -noise],
  }).node;
  return { both, difference };
}

type Pair = readonly [number, number] | undefined;
const union = (a: Pair, b: Pair): [number, number] => [
  Math.min(a?.[0] ?? 0, b?.[0] ?? a?.[0] ?? 0),
  Math.max(a?.[1] ?? 0, b?.[1] ?? a?.[1] ?? 0),
];
