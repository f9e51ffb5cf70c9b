import { signal, type ReadonlySignal } from '@preact/signals-core';

/** Whether a media query holds, followed. */
export function mediaSignal(query: string): ReadonlySignal<boolean> {
  const list = window.matchMedia(query);
  const holds = signal(list.matches);
  list.addEventListener('change', () => {
    holds.value = list.matches;
  });
  return holds;
}
