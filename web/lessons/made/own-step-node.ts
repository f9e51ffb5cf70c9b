import type { BoardAbout } from '../../state/lesson-board.ts';
import type { RawDesign } from '../../model/pointer.ts';
import { h, put } from '../../ui/dom.ts';
import { icon } from '../../ui/icons.ts';
import { PLOT, readerEm } from '../plot-size.ts';
import { reasonField, type Reason } from '../reason.ts';
import type { Coded } from './answer-code.ts';
import type { Outcome } from './evaluator.ts';
import { drawTimes, topOf } from './evaluate.ts';
import type { Evaluated } from './evaluated.ts';
import { levelVolts } from './levels.ts';
import type { OwnStep } from './lesson.ts';
import { ownAsk } from './own-ask.ts';
import { ownChart, type OwnChartOptions } from './own-chart.ts';
import { refusalText } from './checked-text.ts';
import { scoreText, whyNotText } from './say.ts';
import { scoreOwn } from './score-own.ts';
import type { MadeWords } from '../words/made-words.ts';

export interface OwnStepOptions {
  readonly w: MadeWords;
  /** With the student's own value in place. */
  readonly step: OwnStep;
  /** Its place in the lesson, from 1. */
  readonly number: number;
  readonly outcome: Promise<Outcome>;
  /** Answered before the page was loaded anew. */
  readonly before: Coded | undefined;
  readonly onAnswer: (coded: Coded) => void;
  readonly reason: Reason;
  readonly onOpen: (raw: RawDesign, about: BoardAbout) => void;
}

/** A question of one's own as it is played: predict, then see what is so. */
export function ownStepNode(options: OwnStepOptions): HTMLElement {
  const { w, step, number, outcome, onAnswer, onOpen } = options;
  const id = `made-${number}`;
  const answer = h('div', { class: 'step-answer', 'aria-live': 'polite' });
  const evaluated = outcome.then((found) => (found.kind === 'evaluated' ? found.evaluated : undefined));
  const view = ownAsk({ w, step, id: `${id}-answer`, evaluated });
  const say = (sign: 'warning' | 'error' | 'busy', text: string): void =>
    put(answer, h('p', { class: `status-${sign}` }, icon(sign), text));

  async function reveal(coded: Coded): Promise<void> {
    say('busy', w.play.busy);
    const found = await outcome;
    if (found.kind === 'failed') return say('error', found.message);
    if (found.evaluated.refusal) return say('error', refusalText(w, step.ask, found.evaluated.refusal));
    put(answer, ...answerNodes(options, found.evaluated, coded, node.clientWidth));
  }
  let answered = options.before !== undefined;
  /** Once it is answered the board is free to be played with. */
  const about = (): BoardAbout => {
    const { title, question, covered, movable } = step;
    return answered ? { title, question } : { title, question, covered, movable };
  };
  const node = h(
    'section',
    { class: 'step', id, tabindex: -1, 'aria-labelledby': `${id}-title` },
    h('h2', { id: `${id}-title` }, w.play.step(number, step.title)),
    step.text === '' ? undefined : h('p', {}, step.text),
    view.node,
    reasonField(`${id}-reason`, w.play.because, options.reason),
    h(
      'div',
      { class: 'button-row' },
      h(
        'button',
        {
          type: 'button',
          click: () => {
            const given = view.given();
            if ('missing' in given) return say('warning', given.missing);
            answered = true;
            onAnswer(given);
            void reveal(given);
          },
        },
        w.play.reveal,
      ),
      h('button', { type: 'button', click: () => onOpen(step.board, about()) }, w.play.open),
    ),
    answer,
  );
  if (options.before) void reveal(options.before);
  return node;
}

function answerNodes(
  { w, step, number }: OwnStepOptions,
  { truth, shown }: Evaluated,
  coded: Coded,
  width: number,
): Node[] {
  const { ask } = step;
  const score = scoreOwn(ask, truth, coded);
  const said = scoreText(w, ask, truth, coded, score);
  const whyNot = whyNotText(w, ask, coded, score);
  const em = readerEm();
  const chart = ownChart(w, shown, {
    id: `made-${number}-shown`,
    name: `${step.title}: ${said}`,
    size: { width: Math.min(width || PLOT.width * em, PLOT.width * em), height: PLOT.height * em, em },
    drawn: drawnOf(step, coded),
  });
  return [
    h(
      'p',
      { class: score.right ? 'status-ok' : 'status-error' },
      icon(score.right ? 'ok' : 'error'),
      h('strong', {}, score.right ? w.play.right : w.play.wrong),
      `${said}.`,
    ),
    ...(whyNot === '' ? [] : [h('p', { class: 'why-not' }, whyNot)]),
    h('div', { class: 'plot learn-plot' }, chart.node),
    ...(step.meaning === '' ? [] : [h('p', {}, step.meaning)]),
  ];
}

function drawnOf({ ask }: OwnStep, coded: Coded): OwnChartOptions['drawn'] {
  if (ask.kind !== 'draw' || coded.kind !== 'levels') return undefined;
  return { at: drawTimes(ask), values: coded.levels.map((level) => levelVolts(topOf(ask), level)) };
}
