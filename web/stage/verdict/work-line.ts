import { h, put } from '../../ui/dom.ts';
import { icon } from '../../ui/icons.ts';
import type { Work } from '../../state/atoms.ts';

export interface WorkLine {
  readonly node: HTMLElement;
  update(work: Work): void;
}

/** ms after which a run shows its progress and a way to cancel it. */
const SHOW_AFTER = 1000;

/** What the engine is doing: nothing for a moment's work, progress and cancel for more. */
export function createWorkLine(onCancel: () => void, onAgain: () => void): WorkLine {
  const cancel = h('button', { type: 'button', click: onCancel }, 'Stop');
  const again = h('button', { type: 'button', click: onAgain }, 'Compute again');
  const text = h('span', {});
  const progress = h('progress', { 'aria-label': 'Computing' });
  const node = h('div', { class: 'work-line' }, text, progress, cancel, again);
  let timer: ReturnType<typeof setTimeout> | undefined;
  let shownFor: number | undefined;

  return {
    node,
    update(work) {
      const running = work.kind === 'running';
      const long = running && performance.now() - work.since >= SHOW_AFTER;
      if (running && !long && shownFor !== work.since) {
        shownFor = work.since;
        clearTimeout(timer);
        timer = setTimeout(() => this.update(work), SHOW_AFTER);
      }
      if (!running) clearTimeout(timer);
      progress.hidden = cancel.hidden = !long;
      again.hidden = work.kind !== 'cancelled' && work.kind !== 'failed';
      node.hidden = work.kind === 'idle' || (running && !long);
      put(text, ...words(work, long));
    },
  };
}

function words(work: Work, long: boolean): (Node | string)[] {
  switch (work.kind) {
    case 'running':
      return long ? [`Computing: ${work.stage}.`] : [];
    case 'failed':
      return [h('span', { class: 'status-error' }, icon('error'), work.message)];
    case 'cancelled':
      return ['Stopped.'];
    case 'idle':
      return [];
  }
}
