import { effect, signal, type ReadonlySignal } from '@preact/signals-core';
import { nothing, render, type TemplateResult } from 'lit-html';

/** px of a region on the page, and the reader's text size over 16 px. */
export interface Box {
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

export type View = TemplateResult | typeof nothing;

const due = new Set<() => void>();

/** Everything due is drawn together in the next frame. */
function schedule(draw: () => void): void {
  if (due.size === 0)
    requestAnimationFrame(() => {
      const all = [...due];
      due.clear();
      for (const each of all) each();
    });
  due.add(draw);
}

/**
 * Keeps `host` drawn: `view` is called again in the frame after any signal that it read has changed, never twice a
 * frame, and not while it stays hidden unless `always`. Returns the way to stop.
 */
export function mount(host: HTMLElement, view: (box: Box) => View, always = false): () => void {
  const box = boxOf(host);
  let stop: (() => void) | undefined;
  const draw = (): void => {
    stop?.();
    let first = true;
    stop = effect(() => {
      if (!first) return schedule(draw);
      first = false;
      const size = box.value;
      if (always || size.width > 0) render(view(size), host);
    });
  };
  draw();
  return () => {
    stop?.();
    due.delete(draw);
  };
}

const boxes = new WeakMap<HTMLElement, ReadonlySignal<Box>>();

/** The size of an element, followed. */
export function boxOf(host: HTMLElement): ReadonlySignal<Box> {
  const known = boxes.get(host);
  if (known) return known;
  const box = signal<Box>({ width: 0, height: 0, em: 1 });
  boxes.set(host, box);
  new ResizeObserver(([entry]) => {
    // Whole pixels: a picture that leaves the page is as wide as what was seen.
    const [width, height] = [Math.floor(entry!.contentRect.width), Math.floor(entry!.contentRect.height)];
    const em = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
    const { value } = box;
    if (value.width !== width || value.height !== height || value.em !== em)
      box.value = { width, height, em };
  }).observe(host);
  return box;
}
