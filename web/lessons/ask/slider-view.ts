import { effect } from '@preact/signals-core';
import { h } from '../../ui/dom.ts';
import { weighAhead } from '../course/course-client.ts';
import { setIndex, setValue, withSet } from '../moved.ts';
import { quantityText } from '../words/say.ts';
import type { AskContext, AskView, Stage } from './ask.ts';
import { whenStill } from './when-still.ts';

/** One input of the board as a slider; what is moved on the stage moves it too. */
export function sliderView(
  { step, told, words, ask }: AskContext<'set'>,
  board: Pick<Stage, 'raw' | 'change'>,
): AskView {
  const id = `answer-${step.id}`;
  const slider = h('input', {
    id,
    class: 'place-slider',
    type: 'range',
    min: 0,
    max: ask.places - 1,
    step: 1,
    input: () => board.change((raw) => withSet(raw, ask, Number(slider.value)), id),
  });
  const shown = h('output', { for: id });
  const first = setIndex(step.design, ask);
  let index = first;
  const ahead = whenStill(() => weighAhead(step.id, { kind: 'set', index }));
  const end = effect(() => {
    index = setIndex(board.raw.value, ask);
    slider.value = String(index);
    const text = quantityText(words, setValue(ask, index), ask.unit, 3);
    slider.setAttribute('aria-valuetext', text);
    shown.textContent = text;
    if (index !== first) ahead();
  });
  return {
    node: h(
      'div',
      { class: 'prediction' },
      h('label', { class: 'question', for: id }, told.question),
      h('div', { class: 'place-answer' }, slider, shown),
    ),
    given: () => (index === first ? { missing: words.learn.slide } : { kind: 'set', index }),
    end,
  };
}
