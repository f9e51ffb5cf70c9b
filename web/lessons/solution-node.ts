import { h } from '../ui/dom.ts';
import { answerNodes } from './answer-nodes.ts';
import { boardNodes } from './sheets/board-nodes.ts';
import type { StepResult } from './step.ts';
import { truthText } from './words/score-words.ts';
import type { ToldStep } from './words/shape.ts';

/** px: A4 and Letter within their margins. */
const ON_PAPER = { width: 690, height: 210, em: 1 };

/** The answer of a step with its picture, and the board that it was computed on; for paper only. */
export function solutionNode(
  toldStep: ToldStep & { readonly number: string },
  result: StepResult,
): HTMLElement {
  const { step, told, words, number } = toldStep;
  return h(
    'div',
    { class: 'solution' },
    h('h3', {}, `${number} ${told.title}`),
    h('p', {}, `${told.question} `, h('strong', {}, truthText(words, told, step.ask, result.truth))),
    ...answerNodes(toldStep, result, `solution-${step.id}`, ON_PAPER),
    boardNodes(words, step.design),
  );
}
