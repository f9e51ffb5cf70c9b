import { extent } from '../charts/decimate.ts';
import { paddedSpan } from '../charts/spaces.ts';
import { traceChart, type TraceChart } from '../charts/trace-chart.ts';
import { samplesOn } from '../model/traces.ts';
import type { Exhibit, StepResult, StepTrace } from './step.ts';

/** px */
export interface ChartSize {
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/** The traces of a step with strobe, threshold and window; `also` lies over them, dotted curves of the reader's own. */
export function resultChart(
  result: Exhibit & Pick<StepResult, 'place'>,
  id: string,
  name: string,
  size: ChartSize,
  also: readonly StepTrace[] = [],
): TraceChart {
  const [from, to] = result.span;
  const lines = [...result.traces, ...also].map(({ style, label, time, values }) => ({
    style,
    label,
    samples: samplesOn(time, values),
  }));
  const spans = lines.map((line) => extent(line.samples, from, to) ?? [0, 0]);
  return traceChart({
    id,
    ...size,
    name,
    time: { from, to },
    value: paddedSpan(
      Math.min(...spans.map((pair) => pair[0])),
      Math.max(...spans.map((pair) => pair[1])),
      0.15,
    ),
    quantity: result.quantity,
    lines,
    ...result.place,
    labels: lines.map((line, i) => ({
      text: line.label,
      samples: line.samples,
      side: i === 1 ? ('below' as const) : ('above' as const),
    })),
  });
}
