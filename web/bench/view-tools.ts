import type { TimeSpan } from '../charts/spaces.ts';
import { h } from '../ui/dom.ts';

export interface ViewToolsCallbacks {
  readonly onZoom: (factor: number) => void;
  /** Fraction of what is shown, negative = earlier. */
  readonly onPan: (fraction: number) => void;
  readonly onRead: () => void;
  readonly onWhole: () => void;
  readonly onFit: (fit: 'signal' | 'all') => void;
}

/** Zoom and pan by plain buttons; the wheel is left to the page. */
export function createViewTools(callbacks: ViewToolsCallbacks): {
  readonly node: HTMLElement;
  update(fit: 'signal' | 'all', span: TimeSpan, limits: TimeSpan): void;
} {
  const button = (text: string, name: string, act: () => void) =>
    h('button', { type: 'button', 'aria-label': name, title: name, click: act }, text);
  const earlier = button('←', 'Earlier', () => callbacks.onPan(-0.25));
  const later = button('→', 'Later', () => callbacks.onPan(0.25));
  const read = h('button', { type: 'button', click: callbacks.onRead }, 'Read');
  const whole = h('button', { type: 'button', click: callbacks.onWhole }, 'Whole cycle');
  const signal = h('button', { type: 'button', click: () => callbacks.onFit('signal') }, 'The bell');
  const all = h('button', { type: 'button', click: () => callbacks.onFit('all') }, 'The spikes');
  const node = h(
    'div',
    { class: 'button-row', role: 'group', 'aria-label': 'What the charts over time show' },
    button('+', 'Zoom in', () => callbacks.onZoom(0.5)),
    button('−', 'Zoom out', () => callbacks.onZoom(2)),
    earlier,
    later,
    read,
    whole,
    signal,
    all,
  );
  return {
    node,
    update(fit, span, limits) {
      earlier.disabled = span.from <= limits.from;
      later.disabled = span.to >= limits.to;
      whole.disabled = earlier.disabled && later.disabled;
      signal.setAttribute('aria-pressed', String(fit === 'signal'));
      all.setAttribute('aria-pressed', String(fit === 'all'));
    },
  };
}
