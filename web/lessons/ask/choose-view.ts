import { h } from '../../ui/dom.ts';
import type { AskContext, AskView } from './ask.ts';

export function chooseView({ step, ask }: AskContext<'choose'>): AskView {
  const radios = ask.choices.map(({ text }, i) => {
    const input = h('input', { type: 'radio', name: `step-${step.id}`, value: i });
    return { input, label: h('label', {}, input, text) };
  });
  return {
    node: h(
      'fieldset',
      { class: 'prediction' },
      h('legend', {}, step.question),
      ...radios.map((radio) => radio.label),
    ),
    given: () => {
      const chosen = radios.findIndex(({ input }) => input.checked);
      return chosen < 0
        ? { missing: 'Predict first: choose one of the answers.' }
        : { kind: 'choose', chosen };
    },
  };
}
