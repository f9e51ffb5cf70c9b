import { h } from '../../ui/dom.ts';
import { quantityText } from '../words/say.ts';
import type { Words } from '../words/shape.ts';

export interface DrawControlsOptions {
  /** Unique on the page. */
  readonly id: string;
  readonly words: Words;
  /** s: where the points stand. */
  readonly at: readonly number[];
  /** V */
  readonly span: { readonly low: number; readonly high: number };
  /** V a step of the slider. */
  readonly step: number;
  readonly onPick: (point: number) => void;
  readonly onHeight: (point: number, volts: number) => void;
}

export interface DrawControls {
  readonly node: HTMLElement;
  /** Which point is moved, and where it stands, V. */
  readonly show: (point: number, volts: number) => void;
}

/** One point after the other, each as easy to hit as the next however near they stand on the plot. */
export function createDrawControls(options: DrawControlsOptions): DrawControls {
  const { id, words, at, span, step, onPick, onHeight } = options;
  const { learn } = words;
  let point = 0;
  const name = h('label', { for: `height-${id}` });
  const slider = h('input', {
    id: `height-${id}`,
    class: 'place-slider',
    type: 'range',
    min: Math.round(span.low / step),
    max: Math.round(span.high / step),
    step: 1,
    value: 0,
    input: () => onHeight(point, Number(slider.value) * step),
  });
  const shown = h('output', { for: `height-${id}` });
  const to = (by: 1 | -1): HTMLButtonElement =>
    h(
      'button',
      {
        type: 'button',
        'aria-label': by < 0 ? learn.pointBefore : learn.pointAfter,
        click: () => onPick(Math.min(at.length - 1, Math.max(0, point + by))),
      },
      by < 0 ? '◂' : '▸',
    );
  const [before, after] = [to(-1), to(1)];
  return {
    node: h('div', { class: 'draw-controls' }, before, name, after, slider, shown),
    show(now, volts) {
      point = now;
      before.disabled = now === 0;
      after.disabled = now === at.length - 1;
      name.textContent = learn.pointAt(quantityText(words, at[now]!, 's', 3));
      slider.value = String(Math.round(volts / step));
      const text = quantityText(words, volts, 'V', 2);
      slider.setAttribute('aria-valuetext', text);
      shown.textContent = text;
    },
  };
}
