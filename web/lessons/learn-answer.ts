import { extent } from '../charts/decimate.ts';
import { loopChart } from '../charts/loop-chart.ts';
import { paddedSpan } from '../charts/spaces.ts';
import { traceChart } from '../charts/trace-chart.ts';
import { h } from '../ui/dom.ts';
import type { Step, StepResult } from './step.ts';
import { samplesOn } from '../model/traces.ts';

/** px */
export interface AnswerSize {
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/** px that the loop takes beside the trace, where there is room for both. */
const LOOP_WIDTH = 290;

/** What a step comes to: its picture, its numbers, and what they mean. `id` keeps pictures on one page apart. */
export function answerNodes(step: Step, result: StepResult, id: string, size: AnswerSize): Node[] {
  const { height, em } = size;
  const { loop } = result;
  const name = `${step.title}: ${result.answers.map((answer) => `${answer.name} ${answer.value}`).join('; ')}`;
  const loopWidth = Math.min(size.width, LOOP_WIDTH * em);
  const beside = loop !== undefined && size.width >= 2 * loopWidth;
  const width = beside ? size.width - loopWidth - 12 * em : size.width;
  return [
    h(
      'div',
      { class: 'plot learn-plot' },
      tracesOf(result, id, name, { width, height, em }),
      loop &&
        loopChart({
          ...loop,
          name: `The way of the core over its loop. ${name}`,
          at: 0,
          width: loopWidth,
          height,
          em,
        }),
    ),
    h(
      'dl',
      { class: 'readouts' },
      ...result.answers.map((answer) => h('div', {}, h('dt', {}, answer.name), h('dd', {}, answer.value))),
    ),
    h('p', {}, step.meaning),
  ];
}

function tracesOf(
  result: StepResult,
  id: string,
  name: string,
  { width, height, em }: AnswerSize,
): SVGSVGElement {
  const [from, to] = result.span;
  const lines = result.traces.map(({ style, label, time, values }) => ({
    style,
    label,
    samples: samplesOn(time, values),
  }));
  const spans = lines.map((line) => extent(line.samples, from, to) ?? [0, 0]);
  return traceChart({
    id,
    width,
    height,
    em,
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
  }).node;
}
