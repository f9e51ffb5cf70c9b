import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import './learn-print.css';
import type { Step, StepResult } from './step.ts';
import { STEPS } from './steps.ts';
import type { RawDesign } from '../model/pointer.ts';
import { answerNodes } from './learn-answer.ts';

export interface LearnCallbacks {
  /** Opens a step's design in the planning view. */
  readonly onOpen: (raw: RawDesign) => void;
}

/** px: A4 within its margins, three answers a page. */
const ON_PAPER = { width: 690, height: 210, em: 1 };

/** The guided sequence: each step is computed here and now; predict first, then reveal. */
export function createLearnView(callbacks: LearnCallbacks): HTMLElement {
  const solutions = h('section', { class: 'solutions', 'aria-hidden': 'true' });
  const fillSolutions = () => {
    if (node.hidden || !node.isConnected || solutions.childElementCount > 0) return;
    put(solutions, h('h2', {}, 'Answers, each computed on its own small design'), ...STEPS.map(solutionNode));
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
  const node = h(
    'article',
    { class: 'reading learn' },
    h('h1', {}, 'Learn: from one core to a strobe'),
    h(
      'p',
      { class: 'note' },
      'Ten steps. Say what you expect, then let the engine answer. Nothing is recorded; every answer is computed on the step’s own small design. The hand-out has the questions first, and the answers with their pictures on pages of their own.',
    ),
    h('div', { class: 'button-row' }, print),
    h('ol', { class: 'steps' }, ...STEPS.map((step, i) => stepNode(step, i + 1, callbacks))),
    solutions,
  );
  window.addEventListener('beforeprint', fillSolutions);
  return node;
}

/** For paper only. */
function solutionNode(step: Step, i: number): HTMLElement {
  const result = step.compute();
  return h(
    'div',
    { class: 'solution' },
    h('h3', {}, `${i + 1}. ${step.title}`),
    h('p', {}, `${step.question} `, h('strong', {}, step.choices[result.right]!)),
    ...answerNodes(step, result, `solution-${step.id}`, ON_PAPER),
  );
}

function stepNode(step: Step, number: number, callbacks: LearnCallbacks): HTMLElement {
  const answer = h('div', { class: 'step-answer', 'aria-live': 'polite' });
  const radios = step.choices.map((choice, i) => {
    const input = h('input', { type: 'radio', name: `step-${step.id}`, value: i });
    return { input, label: h('label', {}, input, choice) };
  });
  const reveal = h('button', { type: 'button', click: () => show() }, 'Reveal');
  const open = h('button', { type: 'button', click: () => callbacks.onOpen(step.design) }, 'Open in Plan');

  function show(): void {
    const chosen = radios.findIndex((radio) => radio.input.checked);
    if (chosen < 0)
      return put(
        answer,
        h('p', { class: 'status-warning' }, icon('warning'), 'Predict first: choose one of the answers.'),
      );
    const result = step.compute();
    const em = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
    put(
      answer,
      verdictNode(step, result, chosen),
      ...answerNodes(step, result, `learn-${step.id}`, {
        width: Math.min(node.clientWidth, 720 * em),
        height: 230 * em,
        em,
      }),
    );
  }

  const node = h(
    'li',
    { class: 'step', id: `step-${step.id}` },
    h('h2', {}, `${number}. ${step.title}`),
    h('p', {}, step.text),
    h(
      'fieldset',
      { class: 'prediction' },
      h('legend', {}, step.question),
      ...radios.map((radio) => radio.label),
    ),
    h('div', { class: 'button-row' }, reveal, open),
    answer,
  );
  return node;
}

function verdictNode(step: Step, { right }: StepResult, chosen: number): HTMLElement {
  const good = chosen === right;
  return h(
    'p',
    { class: good ? 'status-ok' : 'status-error' },
    icon(good ? 'ok' : 'error'),
    h('strong', {}, good ? 'As you said: ' : 'Not so: '),
    step.choices[right]!,
  );
}
