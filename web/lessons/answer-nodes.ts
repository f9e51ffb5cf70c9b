import { loopChart } from '../charts/loop-chart.ts';
import { h } from '../ui/dom.ts';
import { resultChart, type ChartSize } from './result-chart.ts';
import type { Step, StepResult, StepTrace } from './step.ts';

/** px that the loop takes beside the trace, where there is room for both. */
const LOOP_WIDTH = 290;

/**
 * What a step comes to: its picture, its numbers, and what they mean. `id` keeps pictures on one page apart; `drawn`
 * is what the reader expected, laid over what is so.
 */
export function answerNodes(
  step: Step,
  result: StepResult,
  id: string,
  size: ChartSize,
  drawn: readonly StepTrace[] = [],
): Node[] {
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
      resultChart(result, id, name, { width, height, em }, drawn).node,
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
