import { loopChart } from '../charts/loop-chart.ts';
import { h } from '../ui/dom.ts';
import { chartNotes, inLanguage, resultChart, type ChartSize, type NamedLine } from './result-chart.ts';
import type { StepResult } from './step.ts';
import { answerName, answerValue } from './words/say.ts';
import type { ToldStep } from './words/shape.ts';

/** px that the loop takes beside the trace, where there is room for both. */
const LOOP_WIDTH = 290;

/**
 * What a step comes to: its picture, its numbers, and what they mean. `id` keeps pictures on one page apart; `drawn`
 * is what the reader expected, laid over what is so.
 */
export function answerNodes(
  told: ToldStep,
  result: StepResult,
  id: string,
  size: ChartSize,
  drawn: readonly NamedLine[] = [],
): Node[] {
  const { height, em } = size;
  const { loop } = result;
  const { words } = told;
  const numbers = result.answers.map((answer) => ({
    name: answerName(words, told.told, answer),
    value: answerValue(words, answer),
  }));
  const name = `${told.told.title}: ${numbers.map((each) => `${each.name} ${each.value}`).join('; ')}`;
  const loopWidth = Math.min(size.width, LOOP_WIDTH * em);
  const beside = loop !== undefined && size.width >= 2 * loopWidth;
  const width = beside ? size.width - loopWidth - 12 * em : size.width;
  return [
    h(
      'div',
      { class: 'plot learn-plot' },
      resultChart(told, result, id, name, { width, height, em }, drawn).node,
      loop &&
        inLanguage(
          words,
          loopChart({
            ...loop,
            ends: words.loopChart,
            name: words.loopChart.name(name),
            at: 0,
            width: loopWidth,
            height,
            em,
          }),
        ),
    ),
    ...chartNotes(told, result),
    h(
      'dl',
      { class: 'readouts' },
      ...numbers.map((each) => h('div', {}, h('dt', {}, each.name), h('dd', {}, each.value))),
    ),
    h('p', {}, told.told.meaning),
  ];
}
