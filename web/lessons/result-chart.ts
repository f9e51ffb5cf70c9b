import type { ValueSpan } from '../charts/spaces.ts';
import { traceChart, type TraceChart } from '../charts/trace-chart.ts';
import { samplesOn } from '../model/traces.ts';
import { h } from '../ui/dom.ts';
import { leaderLabels } from './leader-labels.ts';
import type { Curve, Exhibit, StepResult, StepTrace } from './step.ts';
import { quantityText, traceLabel } from './words/say.ts';
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
    value: cutAt(spanOfLines(lines, { from, to }), result.top),
    quantity: result.quantity,
    lines,
    ...result.place,
  });
  const { strobe, threshold, strobeZones = [] } = result.place ?? {};
  const uprights = [
    ...(strobe === undefined ? [] : [strobe]),
    ...strobeZones.flatMap((zone) => [zone.from, zone.to]),
  ];
  chart.node.append(...leaderLabels(chart.spaces, lines, uprights, threshold, size.em));
  inLanguage(words, chart.node);
  return chart;
}

/** Part of the height that lies below nought where the top is cut off. */
const BELOW = 0.12;

const cutAt = (span: ValueSpan, top: number | undefined): ValueSpan =>
  top === undefined || span.high <= top ? span : { low: Math.max(span.low, -BELOW * top), high: top };

/** What has to be known to read the picture, below it. */
export function chartNotes({ words: all }: ToldStep, { rectified, top, traces, span }: Exhibit): Node[] {
  const [from, to] = span;
  const over = traces.some(({ time, values }) =>
    values.some((value, i) => top !== undefined && value > top && time[i]! >= from && time[i]! <= to),
  );
  const said = [
    ...(rectified ? [all.learn.rectified] : []),
    ...(over && top !== undefined ? [all.learn.cutOff(quantityText(all, top, 'V', 2))] : []),
  ];
  return said.length === 0 ? [] : [h('p', { class: 'note small' }, said.join(' '))];
}
