import { effect } from '@preact/signals-core';
import type { Atoms } from '../state/atoms.ts';

/**
 * Lets the browser keep the page's files once the first design is judged, so that the first look is not held up. Where a
 * browser has no service workers, or refuses them, the page works as long as its server does.
 */
export function keepForOffline({ work }: Pick<Atoms, 'work'>): void {
  if (!('serviceWorker' in navigator)) return;
  const stop = effect(() => {
    if (work.value.kind !== 'idle') return;
    queueMicrotask(() => stop());
    void navigator.serviceWorker.register('./service-worker.js').catch(() => undefined);
  });
}
