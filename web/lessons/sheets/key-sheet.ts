import { h } from '../../ui/dom.ts';
import { answerNodes } from '../answer-nodes.ts';
import { boardNodes } from './board-nodes.ts';
import { isOwn, type OwnStep } from '../made/lesson.ts';
import { ownChart } from '../made/own-chart.ts';
import { reachedText } from '../made/checked-text.ts';
import { truthText as ownTruth } from '../made/say.ts';
import type { MadeWords } from '../words/made-words.ts';
import { plainNumber } from '../words/say.ts';
import { truthText } from '../words/score-words.ts';
import { ON_PAPER, type SheetStep } from './question-sheet.ts';

export interface KeyVariant extends SheetStep {
  /** Of the varied input; '' where nothing varies. */
  readonly value: string;
  /** Numbers on the sheets that have this value. */
  readonly numbers: readonly number[];
}

/** What is so of one step: an answer and a picture for each value, what the board is, and how sure that is. */
export function keyNode(w: MadeWords, variants: readonly KeyVariant[]): HTMLElement {
  const [first] = variants as readonly [KeyVariant];
  const { step, number } = first;
  if (!isOwn(step)) return courseKey(w, first);
  return h(
    'section',
    { class: 'paper-key' },
    h('h3', {}, `${number} ${step.title}`),
    h('p', {}, step.question),
    ...variants.flatMap((variant) => variantNodes(w, variant)),
    step.meaning === '' ? undefined : h('p', {}, step.meaning),
    boardNodes(w.course, step.board),
  );
}

function variantNodes(w: MadeWords, { step, evaluated, value, numbers, id }: KeyVariant): Node[] {
  if (!isOwn(step) || !evaluated) return [];
  const answer = `${ownTruth(w, step.ask, evaluated.truth) || reachedText(w, step.ask, evaluated)}${allowed(w, step)}`;
  return [
    h(
      'p',
      {},
      h('strong', {}, value === '' ? answer : w.sheets.variant(value, answer)),
      value === '' ? '' : ` (${w.sheets.numbersOf(numbers)})`,
    ),
    ownChart(w, evaluated.shown, { id, name: `${step.title}: ${answer}`, size: ON_PAPER }).node,
  ];
}

/** What else counts as right. */
function allowed(w: MadeWords, { ask }: OwnStep): string {
  switch (ask.kind) {
    case 'number':
      return `; ${w.sheets.tolerance(`${plainNumber(w.course, ask.within)} %`)}`;
    case 'draw':
      return ` ${w.sheets.tolerance(ask.within)}`;
    case 'place':
      return `; ${w.sheets.target(w.measures.left, w.senses.atLeast, ask.least)}`;
    case 'set':
      return `; ${w.sheets.target(w.measures[ask.measure], w.senses[ask.sense], ask.target)}`;
    default:
      return '';
  }
}

function courseKey(w: MadeWords, { id, number, course }: KeyVariant): HTMLElement {
  const { told, result } = course!;
  const { title, question } = told.told;
  return h(
    'section',
    { class: 'paper-key' },
    h('h3', {}, `${number} ${title}`),
    h('p', {}, `${question} `, h('strong', {}, truthText(w.course, told.told, told.step.ask, result.truth))),
    ...answerNodes(told, result, id, ON_PAPER),
    boardNodes(w.course, told.step.design),
  );
}
