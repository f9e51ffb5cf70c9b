import { signal, type ReadonlySignal } from '@preact/signals-core';
import { panSpan, zoomSpan, type TimeSpan } from '../charts/spaces.ts';
import type { LaidCapture } from './line-up-view.ts';
import { createViewTools } from './view-tools.ts';

/** Which part of a comparison its charts show, and how high. */
export interface TimeLook {
  readonly tools: HTMLElement;
  /** What is to be shown now; marks the tools by it. */
  shown(): { readonly span: TimeSpan; readonly fit: 'signal' | 'all' };
}

/** s: the shortest time shown. */
const SHORTEST = 20e-9;

/** The whole of a capture until the reader looks closer; another capture is shown whole again. */
export function createTimeLook(laid: ReadonlySignal<LaidCapture | undefined>): TimeLook {
  const chosen = signal<{ readonly id: number | undefined; readonly span: TimeSpan } | undefined>(undefined);
  const fit = signal<'signal' | 'all'>('signal');
  const id = (): number | undefined => laid.value?.capture.id;
  const whole = (): TimeSpan => {
    const { time } = laid.value!.answer.comparison;
    return { from: time[0]!, to: time.at(-1)! };
  };
  const view = (): TimeSpan => (chosen.value && chosen.value.id === id() ? chosen.value.span : whole());
  const look = (span: TimeSpan): void => {
    chosen.value = { id: id(), span };
  };
  const tools = createViewTools({
    onZoom: (factor) => look(zoomSpan(view(), factor, whole(), SHORTEST)),
    onPan: (fraction) => look(panSpan(view(), fraction, whole())),
    onRead: () => {
      const { from, to } = whole();
      const end = laid.value!.design.cycle.readWidth;
      look({ from: Math.max(from, -0.1 * end), to: Math.min(to, 1.1 * end) });
    },
    onWhole: () => {
      chosen.value = undefined;
    },
    onFit: (next) => {
      fit.value = next;
    },
  });
  return {
    tools: tools.node,
    shown() {
      tools.update(fit.value, view(), whole());
      return { span: view(), fit: fit.value };
    },
  };
}
