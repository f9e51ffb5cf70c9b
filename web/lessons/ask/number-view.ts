import { h } from '../../ui/dom.ts';
import type { AskContext, AskView } from './ask.ts';

export function numberView({ step, told, words, ask }: AskContext<'number'>): AskView {
  const id = `answer-${step.id}`;
  const input = h('input', { id, type: 'text', inputmode: 'decimal', size: 8, autocomplete: 'off' });
  return {
    node: h(
      'p',
      { class: 'number-answer' },
      h('label', { class: 'question', for: id }, told.question),
      ' ',
      input,
      ask.unit === '' ? '' : ` ${ask.unit}`,
    ),
    given: () => {
      const text = input.value.trim().replace('−', '-').replace(',', '.');
      const value = Number(text);
      return text === '' || !Number.isFinite(value)
        ? { missing: words.learn.type(ask.unit) }
        : { kind: 'number', value };
    },
  };
}
