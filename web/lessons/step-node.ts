import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { answerNodes } from './answer-nodes.ts';
import type { Stage } from './ask/ask.ts';
import { askView } from './ask/ask-view.ts';
import { computeAhead, courseExhibit, courseResult, courseWeighed } from './course/course-client.ts';
import { isMoved } from './moved.ts';
import { plotSize } from './plot-size.ts';
import { reasonField, type Reason } from './reason.ts';
import { score, type Given } from './score.ts';
import { chartNotes, resultChart } from './result-chart.ts';
import type { Exhibit, StepResult } from './step.ts';
import { drawnOf, scoreNodes } from './step-answer.ts';
import type { ToldStep } from './words/shape.ts';

export interface StepCallbacks {
  /** Leads to the step's board; missing: it is there. */
  readonly door?: { readonly label: string; readonly open: () => void };
  /** What is so is about to be shown. */
  readonly onReveal: () => void;
  /** The reader has answered, rightly or not. */
  readonly onAnswer?: (given: Given) => void;
  /** What is so is shown; without an answer to a reader who gave none. */
  readonly onShown?: (given: Given | undefined, right: boolean) => void;
  readonly reason: Reason;
  /** The stage beside which it is played. */
  readonly stage?: Stage;
  /** It was answered, or shown, before: what is so is told at once. */
  readonly before?: { readonly given?: Given };
}

export interface PlayedStep {
  readonly node: HTMLElement;
  /** What is drawn on, and where it stands in `node`. */
  readonly plot: { readonly node: HTMLElement; readonly home: HTMLElement } | undefined;
  /** Ends its listening to the stage. */
  readonly end: () => void;
}

/** A step as it is played: text, question, an answer of one's own, then what is so. */
export function stepNode(
  toldStep: ToldStep,
  number: string,
  { door, onReveal, onAnswer, onShown, reason, stage, before }: StepCallbacks,
): PlayedStep {
  const { step, told, words } = toldStep;
  const { learn } = words;
  const result = (): Promise<StepResult> => courseResult(step.id);
  let asked = 0;
  const answer = h('div', { class: 'step-answer', 'aria-live': 'polite' });
  const view = askView(toldStep, result, stage);

  function reveal(): void {
    const given = view.given();
    if ('missing' in given)
      return put(answer, h('p', { class: 'status-warning' }, icon('warning'), given.missing));
    onAnswer?.(given);
    void show(given);
  }
  /** Of answers that wait for the engine only the newest is told. */
  async function show(given?: Given): Promise<void> {
    onReveal();
    const mine = ++asked;
    put(answer, h('p', { class: 'note' }, learn.computing));
    const weighing = given && isMoved(given) ? courseWeighed(step.id, given) : undefined;
    const both = await Promise.all([result(), weighing]).catch((error: Error) => error);
    if (mine !== asked) return;
    if (both instanceof Error)
      return put(answer, h('p', { class: 'status-error' }, icon('error'), learn.failed(both.message)));
    const [found, weighed] = both;
    const scored = given && score(step.ask, found.truth, given, weighed);
    const drawn = given && drawnOf(toldStep, given);
    put(
      answer,
      ...(scored ? scoreNodes(toldStep, scored) : []),
      ...answerNodes(toldStep, found, `learn-${step.id}`, plotSize(node), drawn),
    );
    // The stage is uncovered once the answer is seen: on a slow machine that takes longer than the answer itself.
    requestAnimationFrame(() =>
      setTimeout(() => {
        if (node.isConnected) onShown?.(given, scored?.right ?? false);
      }),
    );
  }

  const node = h(
    'li',
    { class: 'step', id: `step-${step.id}`, tabindex: -1 },
    h(stage ? 'h2' : 'h3', {}, `${number} ${told.title}`),
    h('p', {}, told.text),
    step.exhibit && exhibitNode(toldStep),
    view.node,
    reasonField(`reason-${step.id}`, learn.because, reason),
    h(
      'div',
      { class: 'button-row' },
      h('button', { type: 'button', click: reveal }, learn.reveal),
      h('button', { type: 'button', click: () => void show() }, learn.show),
      door && h('button', { type: 'button', click: door.open }, door.label),
    ),
    answer,
  );
  computeWhenNear(node, step.id);
  if (before) void show(before.given);
  return {
    node,
    plot: view.plot && { node: view.plot, home: view.plot.parentElement! },
    end: () => view.end?.(),
  };
}

/** So that what is so is there when it is asked for, on a slow machine too. */
function computeWhenNear(node: HTMLElement, id: string): void {
  const near = new IntersectionObserver(
    (entries) => {
      if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
      near.disconnect();
      computeAhead(id);
    },
    { rootMargin: '50%' },
  );
  near.observe(node);
}

/** The picture that a question is about, drawn as wide as the step turns out to be. */
function exhibitNode(toldStep: ToldStep): HTMLElement {
  const { step, told, words } = toldStep;
  const plot = h('div', { class: 'plot learn-plot' }, h('p', { class: 'note' }, words.learn.computing));
  const draw = (exhibit: Exhibit): void =>
    put(
      plot,
      resultChart(toldStep, exhibit, `exhibit-${step.id}`, told.title, plotSize(plot)).node,
      ...chartNotes(toldStep, exhibit),
    );
  const seen = new ResizeObserver(() => {
    // A view that is not shown has no width.
    if (plot.clientWidth === 0) return;
    courseExhibit(step.id).then(draw, ({ message }: Error) => put(plot, words.learn.failed(message)));
  });
  seen.observe(plot);
  return plot;
}
