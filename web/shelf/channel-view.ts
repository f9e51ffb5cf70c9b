import type { ChannelReport } from '../../engine/channel/channel-report.ts';
import type { Design } from '../../engine/design/design.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createSideClient } from '../compute/side-client.ts';
import { createMore } from '../sharing/more.ts';
import { channelParts } from './channel-parts.ts';

export interface ChannelView {
  readonly node: HTMLElement;
  /** `key`: equal as long as all that was asked about is the same. */
  update(design: Design | undefined, key: string): void;
}

/** Disturbed readings, recovery after inhibit, words, drivers and supply: asked for, since it takes many runs. */
export function createChannelView(): ChannelView {
  const client = createSideClient();
  let design: Design | undefined;
  let key = '';
  let asked: string | undefined;
  let answered: { readonly key: string; readonly report: ChannelReport } | undefined;
  const start = h('button', { type: 'button', click: () => ask() }, 'Run it');
  const cancel = h('button', { type: 'button', hidden: true, click: () => stop('Cancelled.') }, 'Cancel');
  const status = h('p', { class: 'status', role: 'status' });
  const output = h('div', { class: 'advice channel' });
  const more = createMore(
    'History, recovery, words and supply',
    () => undefined,
    h(
      'p',
      { class: 'note' },
      'The selected core is read fresh and after every history that can hurt it; the inhibit of the cycle before is followed to the next strobe; words are written and read; the supply is added up. Some seconds.',
    ),
    h('div', { class: 'place' }, start, cancel),
    h('div', { class: 'status-row' }, status),
    output,
  );

  function ask(): void {
    if (!design) return;
    asked = key;
    running(true);
    put(status, icon('busy'), 'Running.');
    client.ask('channel', design, {
      onAnswer: (report) => {
        answered = { key: asked ?? key, report };
        running(false);
        show();
      },
      onFailed: ({ message }) => {
        running(false);
        put(status, icon('error'), message);
      },
    });
  }

  function running(on: boolean): void {
    start.disabled = on;
    cancel.hidden = !on;
    if (!on) asked = undefined;
  }

  function stop(word: string): void {
    client.cancel();
    running(false);
    put(status, icon('warning'), word);
  }

  function show(): void {
    if (!answered) return;
    const old = answered.key !== key;
    output.classList.toggle('stale', old);
    put(status, ...(old ? [icon('stale'), 'Stale: of the inputs before.'] : [icon('ok'), 'Done.']));
    put(output, ...channelParts(answered.report));
  }

  return {
    node: more.node,
    update(next, nextKey) {
      design = next ?? design;
      if (key === nextKey) return;
      key = nextKey;
      if (asked !== undefined && asked !== key) stop('Cancelled: the inputs have changed.');
      start.disabled = asked !== undefined || !next;
      show();
    },
  };
}
