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
}

/** px: A4 within its margins, three answers a page. */
const ON_PAPER = { width: 690, height: 210, em: 1 };

const numberOf = (lesson: number, step: number): string => `${lesson + 1}.${step + 1}`;

/** The course: predict first, then reveal; each step is computed here and now. */
export function createLearnView({ onOpen }: LearnCallbacks): HTMLElement {
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
        h('li', {}, h('button', { type: 'button', class: 'link', click: () => goTo(id) }, title)),
      ),
    ),
    ...LESSONS.map((lesson, l) => lessonNode(lesson, l, onOpen)),
    solutions,
  );
  const goTo = (id: string): void => {
    const title = node.querySelector<HTMLElement>(`#lesson-${id}`);
    title?.scrollIntoView();
    title?.focus({ preventScroll: true });
  };
  window.addEventListener('beforeprint', fillSolutions);
  return node;
}

const lessonNode = ({ id, title, steps }: Lesson, l: number, onOpen: (raw: RawDesign) => void): HTMLElement =>
  h(
    'section',
    { class: 'lesson' },
    h('h2', { id: `lesson-${id}`, tabindex: -1 }, `${l + 1} ${title}`),
    h('ol', { class: 'steps' }, ...steps.map((step, i) => stepNode(step, numberOf(l, i), onOpen))),
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
