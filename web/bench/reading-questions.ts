import { readQuantity } from '../../engine/base/units.ts';
import type { Ambiguity, CaptureOptions } from '../../engine/capture/capture.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';

/** What a text leaves open, each with its answers; an answer reads the text again at once. */
export function questionNodes(
  ambiguities: readonly Ambiguity[],
  onAnswer: (options: CaptureOptions) => void,
): HTMLElement[] {
  return ambiguities.map((ambiguity, i) =>
    ambiguity.choices.length > 0 ? choiceOf(ambiguity, onAnswer) : numberOf(ambiguity, i, onAnswer),
  );
}

function choiceOf(
  { question, choices }: Ambiguity,
  onAnswer: (options: CaptureOptions) => void,
): HTMLElement {
  return h(
    'fieldset',
    { class: 'bench-question' },
    h('legend', {}, icon('warning'), question),
    h(
      'div',
      { class: 'button-row' },
      ...choices.map(({ label, options }) =>
        h('button', { type: 'button', click: () => onAnswer(options) }, label),
      ),
    ),
  );
}

/** The one question without choices is how long a sample lasts. */
function numberOf(
  { question, wanted }: Ambiguity,
  index: number,
  onAnswer: (options: CaptureOptions) => void,
): HTMLElement {
  const id = `bench-question-${index}`;
  const input = h('input', { id, type: 'text', autocomplete: 'off', placeholder: '2 ns' });
  const error = h('p', { class: 'field-error', id: `${id}-error`, role: 'alert', hidden: true });
  const answer = (): void => {
    const reading = readQuantity(input.value, 's');
    error.hidden = reading.ok && reading.value > 0;
    input.setAttribute('aria-invalid', String(!error.hidden));
    if (reading.ok && reading.value > 0) return onAnswer({ [wanted ?? 'sampleInterval']: reading.value });
    input.setAttribute('aria-describedby', error.id);
    put(
      error,
      icon('error'),
      `The sample interval must be a time above 0 s with its unit, but it ${reading.ok ? `is ${input.value}` : reading.why}: write it like 2 ns.`,
    );
  };
  return h(
    'form',
    {
      class: 'bench-question',
      submit: (event: Event) => {
        event.preventDefault();
        answer();
      },
    },
    h('label', { for: id }, icon('warning'), question),
    h('div', { class: 'button-row' }, input, h('button', { type: 'submit' }, 'Read with it')),
    error,
  );
}
