import { effect } from '@preact/signals-core';
import type { Page } from '../state/page.ts';

/** ms at rest before the state is said. */
const REST = 700;

/** Tells readers who cannot see the stage what holds now, once it has come to rest. */
export function announce({ now }: Page, region: HTMLElement): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    const text = now.announcement.value;
    clearTimeout(timer);
    if (text !== '') timer = setTimeout(() => (region.textContent = text), REST);
  });
}
