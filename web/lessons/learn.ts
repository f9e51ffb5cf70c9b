import { effect, type ReadonlySignal } from '@preact/signals-core';
import { h, put } from '../ui/dom.ts';
import { courseResult } from './course/course-client.ts';
import { LESSONS } from './course/lessons.ts';
import { nowNamed } from './course/old-names.ts';
import './learn.css';
import './learn-print.css';
import { keepProgress } from './on-stage/progress.ts';
import { courseReason } from './reason.ts';
import type { Lesson, StepResult } from './step.ts';
import { showStep } from './show-step.ts';
import { solutionNode } from './solution-node.ts';
import { stepNode } from './step-node.ts';
import type { ToldView } from './told-place.ts';
import { wordFor } from './words/say.ts';
import type { ToldStep, Words } from './words/shape.ts';
import type { LessonWords } from './words/step-words.ts';

export interface LearnCallbacks {
  /** Plays a step beside the stage. */
  readonly onPlay: (step: string) => void;
  /** The reader is at a step: the address names it, so that it can be gone back to. */
  readonly onStep: (lesson: string, step: string) => void;
  /** Where the reader is; `part` is a lesson and `id` a step of it. */
  readonly place: ReadonlySignal<LearnPlace>;
}

interface LearnPlace {
  readonly name: string;
  readonly part: string;
  readonly id: string;
}

const numberOf = (lesson: number, step: number): string => `${lesson + 1}.${step + 1}`;

/** The course: predict first, then reveal; each step is computed beside the page. */
export function createLearnView(callbacks: LearnCallbacks, words: Words): ToldView {
  const { learn } = words;
  const allTold = LESSONS.flatMap((lesson, l) =>
    toldSteps(lesson, words).map((told, i) => ({ ...told, number: numberOf(l, i) })),
  );
  const said = h('span', { class: 'note', role: 'status' });
  const solutions = h('section', { class: 'solutions', 'aria-hidden': 'true' });
  const fill = (results: readonly StepResult[]): void =>
    put(
      solutions,
      h('h2', {}, learn.solutions),
      ...allTold.map((told, i) => solutionNode(told, results[i]!)),
    );
  /** A browser that prints of itself waits for no worker. */
  const fillNow = (): void => {
    if (node.isConnected && solutions.childElementCount === 0)
      fill(allTold.map(({ step }) => step.compute()));
  };
  async function printAll(): Promise<void> {
    print.disabled = true;
    said.textContent = learn.computing;
    try {
      fill(await Promise.all(allTold.map(({ step }) => courseResult(step.id))));
      // A place is marked on its two lines, on paper too.
      for (const button of node.querySelectorAll<HTMLElement>('.show-lines:not([hidden])')) button.click();
      await new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(resolve));
      });
      said.textContent = '';
      window.print();
    } catch (error) {
      said.textContent = learn.failed((error as Error).message);
    }
    print.disabled = false;
  }
  const print = h(
    'button',
    {
      type: 'button',
      class: 'print-button',
      click: () => void printAll(),
    },
    learn.print,
  );
  const node = h(
    'article',
    { class: 'reading learn' },
    h('h1', {}, learn.title),
    h('p', { class: 'note' }, learn.about(LESSONS.length, allTold.length)),
    h('div', { class: 'button-row' }, print, said),
    h(
      'ol',
      { class: 'lesson-list' },
      ...LESSONS.map(({ id }) =>
        h(
          'li',
          {},
          h(
            'button',
            { type: 'button', class: 'link', click: () => callbacks.onStep(id, '') },
            lessonWords(words, id).title,
          ),
        ),
      ),
    ),
    ...LESSONS.map((lesson, l) => lessonNode(lesson, l, callbacks, words)),
    solutions,
  );
  const endFollowing = effect(() => {
    const { name, part, id } = callbacks.place.value;
    if (name === 'learn' && part !== '')
      showStep(node, id === '' ? `lesson-${part}` : `step-${nowNamed(id)}`);
  });
  const ended = new AbortController();
  window.addEventListener('beforeprint', fillNow, { signal: ended.signal });
  return {
    node,
    end: () => {
      ended.abort();
      endFollowing();
    },
  };
}

const lessonWords = ({ lessons }: Words, id: string): LessonWords => wordFor<LessonWords>(lessons, id);

/** The steps of a lesson with what is said of each. */
const toldSteps = ({ id, steps }: Lesson, words: Words): readonly ToldStep[] =>
  steps.map((step) => ({ step, told: wordFor(lessonWords(words, id).steps, step.id), words }));

const lessonNode = (lesson: Lesson, l: number, callbacks: LearnCallbacks, words: Words): HTMLElement =>
  h(
    'section',
    { class: 'lesson' },
    h('h2', { id: `lesson-${lesson.id}`, tabindex: -1 }, `${l + 1} ${lessonWords(words, lesson.id).title}`),
    h(
      'ol',
      { class: 'steps' },
      ...toldSteps(lesson, words).map(
        (told, i) =>
          stepNode(told, numberOf(l, i), {
            door: { label: words.onStage.play, open: () => callbacks.onPlay(told.step.id) },
            onReveal: () => callbacks.onStep(lesson.id, told.step.id),
            onShown: (given, right) => keepProgress(told.step.id, given ? { given, right } : {}),
            reason: courseReason(told.step.id),
          }).node,
      ),
    ),
  );
