import type { RawDesign } from '../model/pointer.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { answerNodes } from './answer-nodes.ts';
import { askView } from './ask/ask-view.ts';
import { PLOT, readerEm } from './plot-size.ts';
import { score, type Given, type Score } from './score.ts';
import { resultChart } from './result-chart.ts';
import type { Exhibit, Step, StepResult, StepTrace } from './step.ts';

export interface StepCallbacks {
  /** Opens the step's design in the planning view. */
  readonly onOpen: (raw: RawDesign) => void;
  /** What is so is about to be shown. */
  readonly onReveal: () => void;
}

/** A step as it is played: text, question, an answer of one's own, then what is so. */
export function stepNode(step: Step, number: string, { onOpen, onReveal }: StepCallbacks): HTMLElement {
  let computed: StepResult | undefined;
  const result = (): StepResult => (computed ??= step.compute());
  const answer = h('div', { class: 'step-answer', 'aria-live': 'polite' });
  const view = askView(step, result);

  function reveal(): void {
    const given = view.given();
    if ('missing' in given)
      return put(answer, h('p', { class: 'status-warning' }, icon('warning'), given.missing));
    show(score(step.ask, result().truth, given), drawnOf(step, given));
  }
  function show(found: Score | undefined, drawn: readonly StepTrace[]): void {
    onReveal();
    const em = readerEm();
    const size = { width: Math.min(node.clientWidth, PLOT.width * em), height: PLOT.height * em, em };
    put(
      answer,
      ...(found ? scoreNodes(found) : []),
      ...answerNodes(step, result(), `learn-${step.id}`, size, drawn),
    );
  }

  const node = h(
    'li',
    { class: 'step', id: `step-${step.id}`, tabindex: -1 },
    h('h3', {}, `${number} ${step.title}`),
    h('p', {}, step.text),
    step.exhibit && exhibitNode(step, step.exhibit),
    view.node,
    h('p', { class: 'reason', 'aria-hidden': 'true' }, 'Because:'),
    h(
      'div',
      { class: 'button-row' },
      h('button', { type: 'button', click: reveal }, 'Reveal'),
      h('button', { type: 'button', click: () => show(undefined, []) }, 'Show me'),
      h('button', { type: 'button', click: () => onOpen(step.design) }, 'Open in Plan'),
    ),
    answer,
  );
  return node;
}

/** The picture that a question is about, drawn as wide as the step turns out to be. */
function exhibitNode(step: Step, exhibit: () => Exhibit): HTMLElement {
  const plot = h('div', { class: 'plot learn-plot' });
  const seen = new ResizeObserver(() => {
    // A view that is not shown has no width.
    if (plot.clientWidth === 0) return;
    const em = readerEm();
    const size = { width: Math.min(plot.clientWidth, PLOT.width * em), height: PLOT.height * em, em };
    put(plot, resultChart(exhibit(), `exhibit-${step.id}`, step.title, size).node);
  });
  seen.observe(plot);
  return plot;
}

function scoreNodes({ right, said, whyNot }: Score): Node[] {
  return [
    h(
      'p',
      { class: right ? 'status-ok' : 'status-error' },
      icon(right ? 'ok' : 'error'),
      h('strong', {}, right ? 'As you said: ' : 'Not so: '),
      `${said}.`,
    ),
    ...(whyNot === '' ? [] : [h('p', { class: 'why-not' }, whyNot)]),
  ];
}

/** What was drawn, to lie over what is so. */
function drawnOf({ ask }: Step, given: Given): readonly StepTrace[] {
  if (ask.kind !== 'draw' || given.kind !== 'draw') return [];
  return [
    {
      label: 'drawn',
      style: 'half',
      ...evenly(ask.at, given.values),
    },
  ];
}

/** Points of a drawing that lines of a chart have: evenly apart, s. */
const POINT = 2e-9;

/** Straight from point to point, at even steps. */
function evenly(at: readonly number[], values: readonly number[]): Pick<StepTrace, 'time' | 'values'> {
  const time = Float64Array.from({ length: Math.round(at.at(-1)! / POINT) + 1 }, (_, i) => i * POINT);
  return {
    time,
    values: time.map((t) => {
      const found = at.findIndex((point) => point >= t);
      const next = found < 0 ? at.length - 1 : Math.max(1, found);
      const [from, to] = [at[next - 1]!, at[next]!];
      const part = Math.min(1, (t - from) / (to - from));
      return values[next - 1]! + part * (values[next]! - values[next - 1]!);
    }),
  };
}
