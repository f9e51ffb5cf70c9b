import { signal, type ReadonlySignal } from '@preact/signals-core';

/** How much stands beside each other: one view, two columns under the trace, or the whole stage. */
export type Layout = 'narrow' | 'middle' | 'wide';

/** In widths of the reader's text, so that large text gets the layout of a small page. */
const MIDDLE_FROM = 44;
const WIDE_FROM = 75;

const now = signal<Layout>('wide');
export const layout: ReadonlySignal<Layout> = now;

/** Follows the window and the reader's text size; style sheets read it from `data-layout` of the root. */
export function followLayout(): void {
  const root = document.documentElement;
  const read = (): void => {
    const ems = window.innerWidth / parseFloat(getComputedStyle(root).fontSize);
    // On a projector two views stand beside each other in any window that holds two columns.
    const wideFrom = root.dataset['projector'] === 'true' ? MIDDLE_FROM : WIDE_FROM;
    now.value = ems >= wideFrom ? 'wide' : ems >= MIDDLE_FROM ? 'middle' : 'narrow';
    root.dataset['layout'] = now.value;
  };
  read();
  window.addEventListener('resize', read);
}
