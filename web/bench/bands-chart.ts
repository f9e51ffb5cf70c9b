import type { HeldTrace, Prediction } from '../../engine/predict/prediction.ts';
import { extent, type Samples } from '../charts/decimate.ts';
import { paddedSpan } from '../charts/spaces.ts';
import { traceChart } from '../charts/trace-chart.ts';
import { evenly } from '../model/measured-trace.ts';
import type { ChartData } from '../sharing/chart-data.ts';
import type { Box } from '../ui/mount.ts';

/** Traces that are drawn, and by which colour: the design's own ONE, and the ZERO that is told from it. */
const DRAWN = [
  ['leastOne', 'one', 'least ONE'],
  ['greatestZero', 'zero', 'greatest ZERO'],
] as const;

const drawnOf = ({ traces }: Prediction) =>
  DRAWN.map(([name, style, text]) => ({ style, text, trace: traces.find((each) => each.name === name)! }));

/** Least ONE and greatest ZERO over the read, each in the band that holds any one instant of it in 95 of 100. */
export function bandsChart(found: Prediction, { width, em }: Box): SVGSVGElement {
  const { time, design, strobe } = found;
  const until = design.cycle.readWidth;
  const drawn = drawnOf(found).map(({ trace, ...rest }) => {
    const samples = (values: HeldTrace['value']): Samples => evenly(time, values);
    return { ...rest, middle: samples(trace.value), low: samples(trace.low), high: samples(trace.high) };
  });
  const span = { from: time[0]!, to: Math.min(until, time.at(-1)!) };
  const ends = drawn.flatMap(({ low, high }) =>
    [low, high].map((s) => extent(s, span.from, span.to) ?? [0, 0]),
  );
  return traceChart({
    id: 'bench-bands',
    width: Math.max(220, width),
    height: 280 * em,
    em,
    name: 'Least ONE and greatest ZERO as predicted, with 95 % bands, against time from the start of read',
    time: span,
    value: paddedSpan(Math.min(...ends.map(([low]) => low!)), Math.max(...ends.map(([, high]) => high!))),
    quantity: { symbol: 'u', unit: 'V' },
    bands: drawn.map(({ style, low, high }) => ({ style, low, high })),
    lines: drawn.map(({ style, middle }) => ({ style, samples: middle })),
    strobe: design.strobe.time ?? strobe.value,
    labels: drawn.map(({ text, middle, style }) => ({
      text,
      samples: middle,
      side: style === 'one' ? 'above' : 'below',
    })),
  }).node;
}

/** What stands behind that chart. */
export const bandsData = (found: Prediction, svg: SVGSVGElement): ChartData => ({
  file: 'prediction',
  title: 'Least ONE and greatest ZERO as predicted, with 95 % bands',
  summary: found.traces.map(({ name, case: which }) => `${name}: ${which}`).join('; '),
  design: found.design,
  pictures: [{ svg }],
  columns: [
    { title: 'time / s', values: found.time },
    ...drawnOf(found).flatMap(({ text, trace }) => [
      { title: `${text} / V`, values: trace.value },
      { title: `${text}, low / V`, values: trace.low },
      { title: `${text}, high / V`, values: trace.high },
    ]),
  ],
});
