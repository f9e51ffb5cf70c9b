import { effect, type ReadonlySignal } from '@preact/signals-core';
import type { RawDesign } from '../model/pointer.ts';
import { h, put } from '../ui/dom.ts';
import { answerNodes } from './answer-nodes.ts';
import { LESSONS } from './course/lessons.ts';
import './learn.css';
import './learn-print.css';
import { truthWords } from './score.ts';
import type { Lesson, Step } from './step.ts';
import { stepNode } from './step-node.ts';

export interface LearnCallbacks {
  /** Opens a step's design in the planning view. */
  readonly onOpen: (raw: RawDesign) => void;
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

/** px: A4 within its margins, three answers a page. */
const ON_PAPER = { width: 690, height: 210, em: 1 };

const numberOf = (lesson: number, step: number): string => `${lesson + 1}.${step + 1}`;

/** The course: predict first, then reveal; each step is computed here and now. */
export function createLearnView(callbacks: LearnCallbacks): HTMLElement {
  const solutions = h('section', { class: 'solutions', 'aria-hidden': 'true' });
  const fillSolutions = (): void => {
    if (node.hidden || !node.isConnected || solutions.childElementCount > 0) return;
    put(
      solutions,
      h('h2', {}, 'Answers, each computed on its own small design'),
      ...LESSONS.flatMap(({ steps }, l) => steps.map((step, i) => solutionNode(step, numberOf(l, i)))),
    );
  };
  const print = h(
    'button',
    {
      type: 'button',
      class: 'print-button',
      click: () => {
        fillSolutions();
        window.print();
      },
    },
    'Print as a hand-out',
  );
  const steps = LESSONS.reduce((sum, lesson) => sum + lesson.steps.length, 0);
  const node = h(
    'article',
    { class: 'reading learn' },
    h('h1', {}, 'Learn: from one core to a memory that reads'),
    h(
      'p',
      { class: 'note' },
      `${LESSONS.length} lessons of ${steps} steps in all. Say, place or draw what you expect, then let the engine answer. Nothing is recorded; every answer is computed on the step’s own small design, which opens in Plan to be played with. The hand-out has the questions first, and the answers with their pictures on pages of their own.`,
    ),
    h('div', { class: 'button-row' }, print),
    h(
      'ol',
      { class: 'lesson-list' },
      ...LESSONS.map(({ id, title }) =>
        h(
          'li',
          {},
          h('button', { type: 'button', class: 'link', click: () => callbacks.onStep(id, '') }, title),
        ),
      ),
    ),
    ...LESSONS.map((lesson, l) => lessonNode(lesson, l, callbacks)),
    solutions,
  );
  effect(() => {
    const { name, part, id } = callbacks.place.value;
    if (name === 'learn' && part !== '') showStep(node, id === '' ? `lesson-${part}` : `step-${id}`);
  });
  window.addEventListener('beforeprint', fillSolutions);
  return node;
}

/** Brings a lesson or a step into view, once it stands on the page; one that is seen already stays where it is. */
function showStep(view: HTMLElement, id: string): void {
  requestAnimationFrame(() => {
    const found = view.querySelector<HTMLElement>(`#${CSS.escape(id)}`);
    const box = found?.getBoundingClientRect();
    if (!found || !box || (box.top >= 0 && box.top < window.innerHeight / 2)) return;
    if (!found.contains(document.activeElement)) found.focus({ preventScroll: true });
    found.scrollIntoView();
  });
}

const lessonNode = ({ id, title, steps }: Lesson, l: number, callbacks: LearnCallbacks): HTMLElement =>
  h(
    'section',
    { class: 'lesson' },
    h('h2', { id: `lesson-${id}`, tabindex: -1 }, `${l + 1} ${title}`),
    h(
      'ol',
      { class: 'steps' },
      ...steps.map((step, i) =>
        stepNode(step, numberOf(l, i), {
          onOpen: callbacks.onOpen,
          onReveal: () => callbacks.onStep(id, step.id),
        }),
      ),
    ),
  );

/** For paper only. */
function solutionNode(step: Step, number: string): HTMLElement {
  const result = step.compute();
  return h(
    'div',
    { class: 'solution' },
    h('h3', {}, `${number} ${step.title}`),
    h('p', {}, `${step.question} `, h('strong', {}, truthWords(step.ask, result.truth))),
    ...answerNodes(step, result, `solution-${step.id}`, ON_PAPER),
  );
}
