import { h, put } from '../../ui/dom.ts';
import { createDrawPlot } from '../ask/draw-plot.ts';
import { PLOT, readerEm } from '../plot-size.ts';
import { threeDigits, type Coded } from './answer-code.ts';
import { drawTimes, topOf } from './evaluate.ts';
import type { Evaluated, Scan } from './evaluated.ts';
import { levelOf } from './levels.ts';
import type { ChooseAsk, DrawAsk, NumberAsk, OwnStep } from './lesson.ts';
import { ownChart } from './own-chart.ts';
import { placeText, unitOf } from './say.ts';
import type { MadeWords } from '../words/made-words.ts';
import { quantityText } from '../words/say.ts';

/** Where a question of one's own is answered. */
export interface OwnAskView {
  readonly node: HTMLElement;
  readonly given: () => Coded | { readonly missing: string };
}

export interface OwnAskOptions {
  readonly w: MadeWords;
  readonly step: OwnStep;
  /** Unique on the page. */
  readonly id: string;
  /** What a slider is moved over; comes once it is computed. */
  readonly evaluated: Promise<Evaluated | undefined>;
}

export function ownAsk(options: OwnAskOptions): OwnAskView {
  const { ask } = options.step;
  switch (ask.kind) {
    case 'choose':
      return choose(options, ask);
    case 'number':
      return number(options, ask);
    case 'draw':
      return draw(options, ask);
    case 'place':
    case 'set':
      return slide(options);
  }
}

function choose({ w, step, id }: OwnAskOptions, ask: ChooseAsk): OwnAskView {
  const radios = ask.choices.map(({ text }, value) => {
    const input = h('input', { type: 'radio', name: id, value });
    return { input, label: h('label', {}, input, text) };
  });
  return {
    node: h(
      'fieldset',
      { class: 'prediction' },
      h('legend', {}, step.question),
      ...radios.map(({ label }) => label),
    ),
    given: () => {
      const chosen = radios.findIndex(({ input }) => input.checked);
      return chosen < 0 ? { missing: w.play.choose } : { kind: 'choose', chosen };
    },
  };
}

function number({ w, step, id }: OwnAskOptions, ask: NumberAsk): OwnAskView {
  const input = h('input', { id, type: 'text', inputmode: 'decimal', size: 8, autocomplete: 'off' });
  return {
    node: h(
      'p',
      { class: 'number-answer' },
      h('label', { for: id }, step.question),
      ' ',
      input,
      ` ${unitOf(ask)}`,
    ),
    given: () => {
      const text = input.value.trim().replace('−', '-').replace(',', '.');
      const value = Number(text);
      if (text === '' || !Number.isFinite(value)) return { missing: w.play.type(unitOf(ask)) };
      return { kind: 'number', value: threeDigits(value) };
    },
  };
}

function draw({ w, step, id }: OwnAskOptions, ask: DrawAsk): OwnAskView {
  const top = topOf(ask);
  const plot = createDrawPlot({
    id,
    name: w.play.points(step.question),
    words: w.course,
    at: drawTimes(ask),
    most: top,
  });
  return {
    node: h(
      'div',
      { class: 'prediction' },
      h('p', {}, step.question),
      plot.node,
      h('p', { class: 'note small' }, w.course.learn.pull),
    ),
    given: () => {
      const values = plot.values();
      if (!values) return { missing: w.course.learn.draw };
      return { kind: 'levels', levels: values.map((value) => levelOf(top, value)) };
    },
  };
}

/** A strobe or threshold over the worst cases, or an input by itself. */
function slide({ w, step, id, evaluated }: OwnAskOptions): OwnAskView {
  const { ask } = step;
  let index: number | undefined;
  const plot = h('div', { class: 'plot learn-plot' });
  const shown = h('output', { for: id });
  const slider = h('input', {
    id,
    class: 'place-slider',
    type: 'range',
    min: 0,
    max: 1,
    step: 1,
    disabled: true,
  });
  const label = ask.kind === 'set' ? `${step.question} ${ask.name}` : step.question;
  const holder = h('div', { class: 'place-answer' }, plot, slider, shown);
  shown.textContent = w.play.busy;

  void evaluated.then((found) => {
    if (!found || found.truth.kind !== 'scan') return put(shown);
    const { truth, shown: picture } = found;
    slider.disabled = false;
    slider.max = String(truth.at.length - 1);
    slider.value = '0';
    slider.addEventListener('input', () => moveTo(Number(slider.value), truth, found));
    tell(0, truth);
    if (ask.kind === 'place') new ResizeObserver(() => paint(truth, picture)).observe(plot);
    if (ask.kind === 'place' && ask.moved === 'strobe') followPointer(truth, found);
  });
  const tell = (at: number, truth: Scan): void => {
    const words = placeText(w, ask, truth, at);
    slider.setAttribute('aria-valuetext', words);
    shown.textContent = words;
  };
  function moveTo(to: number, truth: Scan, { shown: picture }: Evaluated): void {
    index = to;
    tell(to, truth);
    if (ask.kind === 'place') paint(truth, picture);
  }
  function paint(truth: Scan, picture: Evaluated['shown']): void {
    if (holder.clientWidth === 0) return;
    const em = readerEm();
    const place = truth.at[Number(slider.value)]!;
    const strobe = ask.kind === 'place' && ask.moved === 'strobe';
    const chart = ownChart(w, picture, {
      id: `${id}-place`,
      name: `${step.question} ${quantityText(w.course, place, strobe ? 's' : 'V', 3)}`,
      size: { width: Math.min(holder.clientWidth, PLOT.width * em), height: PLOT.height * em, em },
      placed: strobe ? { strobe: place } : { threshold: place },
    });
    across = chart.spaces.x;
    put(plot, chart.node);
  }
  let across: { invert: (px: number) => number } | undefined;
  /** The plot is drawn anew under the pointer, so the window listens until it is lifted. */
  function followPointer(truth: Scan, found: Evaluated): void {
    plot.addEventListener('pointerdown', (event) => {
      const left = plot.getBoundingClientRect().left;
      const pull = ({ clientX }: PointerEvent): void => {
        const time = across?.invert(clientX - left) ?? 0;
        const apart = truth.at[1]! - truth.at[0]!;
        const to = Math.round((time - truth.at[0]!) / apart);
        slider.value = String(Math.min(truth.at.length - 1, Math.max(0, to)));
        moveTo(Number(slider.value), truth, found);
      };
      event.preventDefault();
      pull(event);
      const ended = new AbortController();
      window.addEventListener('pointermove', pull, { signal: ended.signal });
      for (const kind of ['pointerup', 'pointercancel'] as const)
        window.addEventListener(kind, () => ended.abort(), { signal: ended.signal });
    });
  }
  return {
    node: h('div', { class: 'prediction' }, h('label', { for: id }, label), holder),
    given: () => (index === undefined ? { missing: w.play.place } : { kind: 'index', index }),
  };
}
