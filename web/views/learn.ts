import { extent } from '../chart/decimate.ts';
import { paddedSpan } from '../chart/spaces.ts';
import { traceChart } from '../chart/trace-chart.ts';
import { h, put } from '../dom.ts';
import { icon } from '../icons.ts';
import type { Step, StepResult } from '../learning/step.ts';
import { STEPS } from '../learning/steps.ts';
import type { RawDesign } from '../pointer.ts';

export interface LearnCallbacks {
  /** Opens a step's design in the planning view. */
  readonly onOpen: (raw: RawDesign) => void;
}

/** The guided sequence: each step is computed here and now; predict first, then reveal. */
export function createLearnView(callbacks: LearnCallbacks): HTMLElement {
  return h(
    'article',
    { class: 'reading learn' },
    h('h1', {}, 'Learn: from one core to a strobe'),
    h(
      'p',
      { class: 'note' },
      'Ten steps. Say what you expect, then let the engine answer. Nothing is recorded; every answer is computed on the step’s own small design.',
    ),
    h('ol', { class: 'steps' }, ...STEPS.map((step, i) => stepNode(step, i + 1, callbacks))),
    h(
      'button',
      { type: 'button', class: 'print-button', click: () => window.print() },
      'Print as a hand-out',
    ),
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
    put(answer, ...revealed(step, step.compute(), chosen, node.clientWidth));
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

function revealed(step: Step, result: StepResult, chosen: number, width: number): Node[] {
  const em = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
  const good = chosen === result.right;
  const lines = result.traces.map((trace) => ({
    style: trace.style,
    label: trace.label,
    samples: { start: trace.time[0] ?? 0, step: trace.time[1]! - trace.time[0]!, values: trace.values },
  }));
  const [from, to] = result.span;
  const spans = lines.map((line) => extent(line.samples, from, to) ?? [0, 0]);
  const { node } = traceChart({
    id: `learn-${step.id}`,
    width: Math.min(width, 720 * em),
    height: 230 * em,
    em,
    name: `${step.title}: ${result.answers.map(({ name, value }) => `${name} ${value}`).join('; ')}`,
    time: { from, to },
    value: paddedSpan(
      Math.min(...spans.map((pair) => pair[0])),
      Math.max(...spans.map((pair) => pair[1])),
      0.15,
    ),
    quantity: result.quantity,
    lines,
    labels: lines.map((line, i) => ({
      text: line.label,
      samples: line.samples,
      side: i === 0 ? ('above' as const) : ('below' as const),
    })),
  });
  return [
    h(
      'p',
      { class: good ? 'status-ok' : 'status-error' },
      icon(good ? 'ok' : 'error'),
      h('strong', {}, good ? 'As you said: ' : 'Not so: '),
      step.choices[result.right]!,
    ),
    h('div', { class: 'plot' }, node),
    h(
      'dl',
      { class: 'readouts' },
      ...result.answers.map(({ name, value }) => h('div', {}, h('dt', {}, name), h('dd', {}, value))),
    ),
    h('p', {}, step.meaning),
  ];
}
