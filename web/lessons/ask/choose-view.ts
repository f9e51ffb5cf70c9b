import { h } from '../../ui/dom.ts';
import { wordFor } from '../words/say.ts';
import type { AskContext, AskView } from './ask.ts';

export function chooseView({ step, told, words, ask }: AskContext<'choose'>): AskView {
  const radios = ask.choices.map((key, i) => {
    const input = h('input', { type: 'radio', name: `step-${step.id}`, value: i });
    return { input, label: h('label', {}, input, wordFor(told.choices, key).text) };
  });
  return {
    node: h(
      'fieldset',
      { class: 'prediction' },
      h('legend', {}, told.question),
      ...radios.map((radio) => radio.label),
    ),
    given: () => {
      const chosen = radios.findIndex(({ input }) => input.checked);
      return chosen < 0 ? { missing: words.learn.choose } : { kind: 'choose', chosen };
    },
  };
}
