import { traceChart, type TraceChart } from '../charts/trace-chart.ts';
import { samplesOn } from '../model/traces.ts';
import type { Curve, Exhibit, StepResult, StepTrace } from './step.ts';
import { traceLabel } from './words/say.ts';
import type { ToldStep, Words } from './words/shape.ts';
import { spanOfLines } from './span-of-lines.ts';

/** px */
export interface ChartSize {
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/** A line with its name in the reader's language. */
export interface NamedLine extends Curve {
  readonly label: string;
  readonly style: StepTrace['style'];
}

/** A chart with its numbers as the language writes them: the charts of the page know none but English. */
export function inLanguage<T extends Element>({ say }: Words, chart: T): T {
  for (const tick of chart.querySelectorAll('.tick-text'))
    tick.textContent = tick.textContent.replace('.', say.decimal);
  return chart;
}

/** The traces of a step with strobe, threshold and window; `also` lies over them, dotted curves of the reader's own. */
export function resultChart(
  { words, told }: ToldStep,
  result: Exhibit & Pick<StepResult, 'place'>,
  id: string,
  name: string,
  size: ChartSize,
  also: readonly NamedLine[] = [],
): TraceChart {
  const [from, to] = result.span;
  const named = result.traces.map((each) => ({ ...each, label: traceLabel(words, told, each) }));
  const lines = [...named, ...also].map(({ style, label, time, values }) => ({
    style,
    label,
    samples: samplesOn(time, values),
  }));
  const chart = traceChart({
    id,
    ...size,
    name,
    time: { from, to },
    value: spanOfLines(lines, { from, to }),
    quantity: result.quantity,
    lines,
    ...result.place,
    labels: lines.map((line, i) => ({
      text: line.label,
      samples: line.samples,
      style: line.style,
      side: i === 1 ? ('below' as const) : ('above' as const),
    })),
  });
  inLanguage(words, chart.node);
  return chart;
}
