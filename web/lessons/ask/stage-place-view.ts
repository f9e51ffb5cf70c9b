import { effect } from '@preact/signals-core';
import { h, put } from '../../ui/dom.ts';
import { quantityText } from '../words/say.ts';
import type { AskContext, AskView, Stage } from './ask.ts';

/** The strobe of the stage itself is the answer. */
export function stagePlaceView({
  told,
  words,
  stage,
}: AskContext<'place'> & { readonly stage: Stage }): AskView {
  const shown = h('output', { class: 'note' });
  const end = effect(() => {
    const time = stage.strobe.value;
    put(shown, time === undefined ? words.onStage.strobeAside : quantityText(words, time, 's', 3));
  });
  return {
    end,
    node: h('div', { class: 'prediction' }, h('p', { class: 'question' }, told.question), shown),
    given: () => {
      const time = stage.strobe.peek();
      return time === undefined ? { missing: words.onStage.strobeAside } : { kind: 'place', time };
    },
  };
}
