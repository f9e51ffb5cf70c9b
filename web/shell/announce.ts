import { effect } from '@preact/signals-core';
import type { Page } from '../state/page.ts';
import { afterRest } from '../ui/rest.ts';

/** ms at rest before the state is said. */
const REST = 700;

/** Tells readers who cannot see the stage what holds now, once it has come to rest. */
export function announce({ now }: Page, region: HTMLElement): void {
  const said = afterRest(REST, () => {
    region.textContent = now.announcement.peek();
  });
  effect(() => {
    if (now.announcement.value === '') said.cancel();
    else said.ask();
  });
}
