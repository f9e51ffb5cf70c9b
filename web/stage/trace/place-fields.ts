import { formatQuantity } from '../../../engine/index.ts';
import { h, put } from '../../ui/dom.ts';
import { icon } from '../../ui/icons.ts';
import { showValue } from '../../ui/typing.ts';
import type { StrobeState } from '../../model/strobe-state.ts';

export interface PlaceCallbacks {
  /** Each returns what is wrong with the text, in one sentence, or undefined. */
  readonly onStrobe: (text: string) => string | undefined;
  readonly onThreshold: (text: string) => string | undefined;
  readonly onBest: () => void;
}

export interface PlaceFields {
  readonly node: HTMLElement;
  update(strobe: StrobeState, best: boolean): void;
}

/** Strobe and threshold as typed values, beside the grips that do the same. */
export function createPlaceFields(callbacks: PlaceCallbacks): PlaceFields {
  const make = (id: string, label: string, commit: (text: string) => string | undefined) => {
    const message = h('p', { class: 'field-error', id: `${id}-error`, hidden: true });
    const input = h('input', {
      id,
      type: 'text',
      autocomplete: 'off',
      spellcheck: 'false',
      'aria-describedby': message.id,
      change: () => {
        const fault = commit(input.value);
        message.hidden = fault === undefined;
        input.setAttribute('aria-invalid', String(fault !== undefined));
        put(message, icon('error'), fault ?? '');
      },
    });
    return {
      input,
      message,
      node: h('div', { class: 'field' }, h('label', { for: id }, label), input, message),
    };
  };
  const strobe = make('strobe-field', 'Strobe', callbacks.onStrobe);
  const threshold = make('threshold-field', 'Threshold', callbacks.onThreshold);
  const best = h('button', { type: 'button', click: callbacks.onBest }, 'Best strobe');
  const node = h('div', { class: 'place' }, strobe.node, threshold.node, best);
  const shown = new Map<typeof strobe, string>();
  // A refused text stays, with its message, until the value itself changes.
  const show = (field: typeof strobe, text: string) => {
    if (shown.get(field) === text && field.input.getAttribute('aria-invalid') === 'true') return;
    shown.set(field, text);
    showValue(field.input, text.replace('−', '-'));
    field.message.hidden = true;
    field.input.setAttribute('aria-invalid', 'false');
  };
  return {
    node,
    update(state, isBest) {
      show(strobe, formatQuantity(state.time, 's', 6));
      show(threshold, formatQuantity(state.level, 'V', 6));
      best.setAttribute('aria-pressed', String(isBest));
    },
  };
}
