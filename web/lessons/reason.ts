import { h } from '../ui/dom.ts';

/** One line in which a reader says why, and where it is kept: in this tab of the browser only, as answers are. */
export interface Reason {
  /** What was written before; '' for nothing. */
  readonly text: string;
  readonly keep: (text: string) => void;
}

/** Letters that fit one line on paper. */
const MOST_LETTERS = 100;

/** A labelled line for a reason; `id` is unique on the page. */
export function reasonField(id: string, label: string, reason: Reason): HTMLElement {
  const input = h('input', {
    id,
    type: 'text',
    class: 'reason-line',
    autocomplete: 'off',
    maxlength: MOST_LETTERS,
    value: reason.text,
    input: () => reason.keep(input.value),
  });
  return h('p', { class: 'field reason' }, h('label', { for: id }, label), input);
}

/** The reason for an answer to a step of the course. */
export function courseReason(step: string): Reason {
  const key = `reason-${step}`;
  return {
    text: readKept(key),
    keep(text) {
      try {
        if (text === '') sessionStorage.removeItem(key);
        else sessionStorage.setItem(key, text);
      } catch {
        // Storage that is refused: the line lasts as long as the page.
      }
    },
  };
}

function readKept(key: string): string {
  try {
    return sessionStorage.getItem(key) ?? '';
  } catch {
    return '';
  }
}
