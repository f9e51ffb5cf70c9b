import type { Design } from '../../engine/design/design.ts';
import { extent } from '../charts/decimate.ts';
import { paddedSpan } from '../charts/spaces.ts';
import { traceChart } from '../charts/trace-chart.ts';
import { evenly } from '../model/measured-trace.ts';
import type { ChartData } from '../sharing/chart-data.ts';
import type { Box } from '../ui/mount.ts';
import type { Drawable } from './diagnose-view.ts';

/** The first capture over what the explanation would give. */
export function explainedChart({ title, traces: [trace] }: Drawable, { width, em }: Box): SVGSVGElement {
  const measured = evenly(trace.time, trace.measured);
  const predicted = evenly(trace.time, trace.predicted);
  const span = { from: trace.time[0]!, to: trace.time.at(-1)! };
  const ends = [measured, predicted].map((samples) => extent(samples, span.from, span.to) ?? [0, 0]);
  return traceChart({
    id: 'bench-explained',
    width: Math.max(220, width),
    height: 280 * em,
    em,
    name: `${trace.label} over what "${title}" would give`,
    time: span,
    value: paddedSpan(Math.min(...ends.map(([low]) => low)), Math.max(...ends.map(([, high]) => high))),
    quantity: { symbol: 'u', unit: 'V' },
    lines: [
      { style: 'selected', samples: predicted },
      { style: 'measured', samples: measured },
    ],
    labels: [
      { text: 'with this fault', samples: predicted, side: 'above' },
      { text: 'measured', samples: measured, side: 'below' },
    ],
  }).node;
}

/** What stands behind that chart. */
export const explainedData = (
  { title, evidence, traces: [trace] }: Drawable,
  design: Design,
  svg: SVGSVGElement,
): ChartData => ({
  file: 'explanation',
  title: `${trace.label}: ${title}`,
  summary: evidence,
  design,
  pictures: [{ svg }],
  columns: [
    { title: 'time / s', values: trace.time },
    { title: 'measured / V', values: trace.measured },
    { title: 'predicted / V', values: trace.predicted },
  ],
});
