import { effect } from '@preact/signals-core';
import { h } from '../../ui/dom.ts';
import { quantityText } from '../words/say.ts';
import type { AskContext, AskView, Stage } from './ask.ts';

/** The board on the stage is the answer, as it stands when what is so is asked for. */
export function boardView({ told, words }: AskContext<'board'>, stage?: Stage): AskView {
  const { learn, onStage } = words;
  const question = h('p', { class: 'question' }, told.question);
  if (!stage)
    return {
      node: h('div', { class: 'prediction' }, question, h('p', { class: 'note' }, learn.onStageOnly)),
      given: () => ({ missing: learn.onStageOnly }),
    };
  const shown = h('output', {});
  const end = effect(() => {
    const left = stage.left.value;
    shown.textContent =
      left === undefined ? learn.computing : onStage.leftNow(quantityText(words, left, 'V', 3));
  });
  const own = h('button', { type: 'button', click: stage.takeOwn }, onStage.takeOwn);
  return {
    node: h(
      'div',
      { class: 'prediction' },
      question,
      shown,
      h('div', { class: 'button-row' }, own),
      h('p', { class: 'note small' }, onStage.ownAsks),
    ),
    given: () => {
      const [raw, from] = [stage.raw.peek(), stage.opened()];
      return JSON.stringify(raw) === JSON.stringify(from)
        ? { missing: onStage.changeFirst }
        : { kind: 'board', raw, from };
    },
    end,
  };
}
