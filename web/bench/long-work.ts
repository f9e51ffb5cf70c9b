import { h, put } from '../ui/dom.ts';
import { icon, type IconName } from '../ui/icons.ts';

/** The long work of a panel: what is said of it, how far it has come, and a way out. */
export interface LongWork {
  /** Shown while it goes on. */
  readonly cancel: HTMLButtonElement;
  /** What is said, and the bar. */
  readonly row: HTMLElement;
  say(sign: IconName, ...text: readonly (Node | string)[]): void;
  begin(text: string): void;
  /** `text` once it has gone on for long enough to be read. */
  advance(done: number, planned: number, text: string): void;
  end(): void;
}

interface LongWorkOptions {
  readonly lane: { cancel(): void };
  /** The button that starts it, which stands still meanwhile. */
  readonly start: HTMLButtonElement;
  /** Name of the bar. */
  readonly name: string;
  /** What is said once it was cancelled. */
  readonly cancelled: string;
  readonly onEnd?: () => void;
}

/** ms after which progress is told in words. */
const SOON = 300;

export function createLongWork({ lane, start, name, cancelled, onEnd }: LongWorkOptions): LongWork {
  const status = h('p', { class: 'status', role: 'status' });
  const bar = h('progress', { 'aria-label': name, hidden: true });
  const click = (): void => {
    lane.cancel();
    work.end();
    work.say('warning', cancelled);
    start.focus();
  };
  let since = 0;
  const work: LongWork = {
    cancel: h('button', { type: 'button', hidden: true, click }, 'Cancel'),
    row: h('div', { class: 'status-row' }, status, bar),
    say: (sign, ...text) => put(status, icon(sign), ...text),
    begin(text) {
      since = performance.now();
      start.disabled = true;
      work.cancel.hidden = bar.hidden = false;
      bar.removeAttribute('value');
      work.say('busy', text);
    },
    advance(done, planned, text) {
      bar.max = planned;
      bar.value = done;
      if (performance.now() - since > SOON) work.say('busy', text);
    },
    end() {
      work.cancel.hidden = bar.hidden = true;
      start.disabled = false;
      onEnd?.();
    },
  };
  return work;
}
