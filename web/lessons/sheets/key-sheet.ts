import { VERSION } from '../../../engine/base/version.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { coreSource } from '../../model/core-source.ts';
import type { RawDesign } from '../../model/pointer.ts';
import { leaves } from '../../sharing/print-sheet.ts';
import { h } from '../../ui/dom.ts';
import { answerNodes } from '../answer-nodes.ts';
import { isOwn, type OwnStep } from '../made/lesson.ts';
import { ownChart } from '../made/own-chart.ts';
import { reachedText, truthText as ownTruth } from '../made/say.ts';
import type { MadeWords } from '../words/made-words.ts';
import { plainNumber, quantityText } from '../words/say.ts';
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
    ...boardNodes(w, step.board),
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
      value === '' ? '' : ` (${w.sheets.numbersOf(numbers.join(', '))})`,
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
    ...boardNodes(w, told.step.design),
  );
}

function boardNodes(w: MadeWords, board: RawDesign): Node[] {
  const design = checkDesign(board);
  const { threshold, guard } = strobeUncertainties(design);
  return [
    h('p', { class: 'small paper-inputs-title' }, w.sheets.inputs),
    h(
      'dl',
      { class: 'paper-inputs small' },
      ...leaves(board)
        .filter(([name]) => name !== 'note')
        .map(([name, value]) => h('div', {}, h('dt', {}, name), h('dd', {}, value))),
    ),
    h(
      'p',
      { class: 'small' },
      `${w.sheets.certainty(coreSource(design), VERSION)} ${w.sheets.uncertain(quantityText(w.course, threshold, 'V', 2), quantityText(w.course, guard, 's', 2))}`,
    ),
  ];
}
