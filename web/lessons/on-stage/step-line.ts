import { LESSON_PART } from '../../state/lesson-board.ts';
import type { Place } from '../../state/place.ts';
import { h } from '../../ui/dom.ts';
import { icon } from '../../ui/icons.ts';
import { LESSONS } from '../course/lessons.ts';
import type { Lesson } from '../step.ts';
import { wordFor } from '../words/say.ts';
import type { Words } from '../words/shape.ts';
import type { LessonWords } from '../words/step-words.ts';
import { findStep, type Found } from './found.ts';
import type { Standing } from './progress.ts';
import './step-line.css';

type Go = (place: Partial<Place>) => void;

const stepAt = (id: string): Partial<Place> => ({ name: 'plan', part: LESSON_PART, id });

const titleOf = ({ lessons }: Words, id: string): string => wordFor<LessonWords>(lessons, id).title;

/** In the place of the verdict: the lesson, its steps with how they stand, and the score so far. */
export function stepLine(
  lesson: Lesson,
  current: string,
  words: Words,
  go: Go,
  standings: Readonly<Record<string, Standing>>,
): Node[] {
  const { onStage } = words;
  const answered = Object.values(standings).filter(({ given }) => given !== undefined);
  const right = answered.filter((standing) => standing.right).length;
  const choice = h(
    'select',
    {
      'aria-label': onStage.lesson,
      change: () => go(stepAt(LESSONS[choice.selectedIndex]!.steps[0]!.id)),
    },
    ...LESSONS.map(({ id }, l) =>
      h('option', { value: id, selected: id === lesson.id }, `${l + 1} ${titleOf(words, id)}`),
    ),
  );
  return [
    h(
      'button',
      { type: 'button', click: () => go({ name: 'learn', part: lesson.id, id: current }) },
      onStage.all,
    ),
    choice,
    h(
      'ol',
      { class: 'step-marks', 'aria-label': onStage.steps(titleOf(words, lesson.id)) },
      ...lesson.steps.map(({ id }) => h('li', {}, mark(id, id === current, words, go, standings[id]))),
    ),
    h('span', { class: 'note score' }, onStage.score(right, answered.length)),
  ];
}

function mark(
  id: string,
  isCurrent: boolean,
  words: Words,
  go: Go,
  standing: Standing | undefined,
): HTMLElement {
  const { onStage } = words;
  const { told, number } = findStep(words, id)!;
  const said =
    standing === undefined
      ? ''
      : standing.given === undefined
        ? onStage.seen
        : standing.right
          ? onStage.right
          : onStage.wrong;
  const sign = standing?.given && icon(standing.right ? 'ok' : 'error');
  return h(
    'button',
    {
      type: 'button',
      class: 'step-mark',
      'aria-current': isCurrent ? 'step' : undefined,
      title: told.title,
      click: () => go(stepAt(id)),
    },
    h('span', { class: 'step-sign' }, sign ?? number.split('.')[1]!),
    h('span', { class: 'step-title' }, told.title),
    said !== '' && h('span', { class: 'visually-hidden' }, said),
  );
}

/** Back and forward through the whole course. */
export function stepWays({ previous, next }: Found, words: Words, go: Go): HTMLElement {
  const { onStage } = words;
  return h(
    'div',
    { class: 'button-row step-ways' },
    previous !== undefined &&
      h('button', { type: 'button', click: () => go(stepAt(previous)) }, onStage.back),
    next !== undefined &&
      h(
        'button',
        { type: 'button', class: 'onward', click: () => go(stepAt(next)) },
        onStage.next(findStep(words, next)!.told.title),
      ),
  );
}
