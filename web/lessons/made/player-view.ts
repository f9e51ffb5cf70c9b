import { effect, untracked } from '@preact/signals-core';
import type { BoardAbout } from '../../state/lesson-board.ts';
import type { RawDesign } from '../../model/pointer.ts';
import { h, put } from '../../ui/dom.ts';
import { icon } from '../../ui/icons.ts';
import { standsOn } from '../on-stage/stands-on.ts';
import { stepNode } from '../step-node.ts';
import { codedOf, toldCourse } from './course-steps.ts';
import type { Evaluator } from './evaluator.ts';
import { isOwn, MOST_STUDENTS, type MadeLesson } from './lesson.ts';
import { ownStepNode } from './own-step-node.ts';
import { createPlayer, type Player } from './player.ts';
import { isVaried, valueIndex, withVariant } from './variants.ts';
import type { ToldStep } from '../words/shape.ts';
import type { MadeWords } from '../words/made-words.ts';
import './made.css';

export interface PlayerViewOptions {
  readonly w: MadeWords;
  readonly lesson: MadeLesson;
  readonly evaluator: Evaluator;
  /** A number of the class that the link gave. */
  readonly number: string;
  readonly onOpen: (raw: RawDesign, about: BoardAbout) => void;
}

/** A lesson that a teacher made, as its students play it. */
export function createPlayerView(options: PlayerViewOptions): HTMLElement {
  const { w, lesson } = options;
  const player = createPlayer(lesson);
  if (options.number !== '') player.takeNumber(options.number);
  const steps = h('div', { class: 'steps' });
  const code = h('section', { class: 'card-like code-card', 'aria-labelledby': 'code-title' });
  const node = h(
    'article',
    { class: 'reading learn made-lesson' },
    h('h1', {}, lesson.title),
    h('p', { class: 'note' }, w.play.about(lesson.steps.length)),
    isVaried(lesson) && numberField(w, player),
    steps,
    code,
  );
  effect(() => {
    const student = player.student.value;
    void player.round.value;
    untracked(() => {
      if (student === undefined) put(steps, h('p', { class: 'note' }, w.play.numberFirst));
      else put(steps, ...lesson.steps.map((_, place) => stepOf(options, player, place, student)));
    });
  });
  effect(() => {
    const done = player.answers.value.filter((each) => each !== undefined).length;
    const ready = player.student.value !== undefined;
    untracked(() => put(code, ...(ready ? codeNodes(w, player, done) : [])));
  });
  return node;
}

function stepOf(options: PlayerViewOptions, player: Player, place: number, student: number): HTMLElement {
  const { w, lesson, evaluator, onOpen } = options;
  const step = lesson.steps[place]!;
  if (!isOwn(step)) {
    const course = toldCourse(w.course, step.course);
    const answered = (): boolean => player.answers.peek()[place] !== undefined;
    const item = stepNode(course, String(place + 1), {
      door: {
        label: w.course.learn.open,
        open: () => onOpen(course.step.design, boardOf(course, answered())),
      },
      onReveal: () => undefined,
      onAnswer: (given) => player.answer(place, codedOf(course.step.ask, given)),
      reason: player.reason(place),
    });
    // A step of the course is an item of a list, wherever it stands.
    return h('ol', { class: 'steps' }, item.node);
  }
  const mine = withVariant(step, valueIndex(lesson, place, student));
  return ownStepNode({
    w,
    step: mine,
    number: place + 1,
    outcome: evaluator.evaluate(mine),
    before: player.answers.value[place],
    onAnswer: (coded) => player.answer(place, coded),
    reason: player.reason(place),
    onOpen,
  });
}

/** Of a step of the course too nothing is told by its board until it is answered. */
function boardOf({ step, told: { title, question } }: ToldStep, answered: boolean): BoardAbout {
  const { covered, movable } = standsOn(step.id);
  return answered ? { title, question } : { title, question, covered, movable };
}

function numberField(w: MadeWords, player: Player): HTMLElement {
  const error = h('p', { class: 'field-error', id: 'class-number-error', role: 'alert', hidden: true });
  const input = h('input', {
    id: 'class-number',
    type: 'text',
    inputmode: 'numeric',
    size: 4,
    autocomplete: 'off',
    value: player.student.value ?? '',
    'aria-describedby': 'class-number-help class-number-error',
    change: () => {
      error.hidden = player.takeNumber(input.value);
      if (!error.hidden) put(error, icon('error'), w.play.badNumber(MOST_STUDENTS, input.value));
    },
  });
  return h(
    'div',
    { class: 'field' },
    h('label', { for: 'class-number' }, w.play.number),
    input,
    h('p', { class: 'note small', id: 'class-number-help' }, w.play.numberHelp(MOST_STUDENTS)),
    error,
  );
}

function codeNodes(w: MadeWords, player: Player, done: number): Node[] {
  const said = h('span', { role: 'status' });
  const shown = h(
    'output',
    { class: 'answer-code', tabindex: 0, 'aria-labelledby': 'code-title' },
    player.code(),
  );
  return [
    h('h2', { id: 'code-title' }, w.play.code),
    shown,
    h('p', { class: 'note small' }, w.play.codeHelp(done, player.lesson.steps.length), ' ', w.play.counted),
    h(
      'div',
      { class: 'button-row' },
      h(
        'button',
        {
          type: 'button',
          click: () => {
            void navigator.clipboard.writeText(player.code()).then(
              () => put(said, w.play.copied),
              () => put(said, w.play.notCopied),
            );
          },
        },
        w.play.copy,
      ),
      h('button', { type: 'button', click: () => player.again() }, w.play.again),
      said,
    ),
  ];
}
