import { h } from '../../ui/dom.ts';
import { createDrawPlot } from '../ask/draw-plot.ts';
import { threeDigits } from './answer-code.ts';
import { drawTimes, topOf } from './evaluate.ts';
import { levelOf } from './levels.ts';
import type { ChooseAsk, DrawAsk, NumberAsk } from './lesson.ts';
import type { OwnAskOptions, OwnAskView } from './own-ask-view.ts';
import { ownSlide } from './own-slide.ts';
import { unitOf } from './say.ts';

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
      return ownSlide(options);
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
