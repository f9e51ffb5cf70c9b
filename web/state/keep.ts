import { createStore, get, set } from 'idb-keyval';
import { effect } from '@preact/signals-core';
import { afterRest } from '../ui/rest.ts';
import type { Core } from './atoms.ts';
import type { Atoms } from './atoms.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { History } from './undo.ts';
import type { Place } from './place.ts';

/** Steps of undo that outlive the page. */
const KEPT_STEPS = 50;
/** ms after a change before it is written. */
const REST = 300;
const LAST = 'last';

/** What a reload brings back. */
export interface KeptWork {
  readonly history: History<RawDesign>;
  readonly place: Place;
  readonly core: Core | undefined;
  readonly bit: 0 | 1;
  readonly instant: number | undefined;
  /** ms since 1970. */
  readonly at: number;
}

export const store = () => createStore('strobewright', 'work');

/** The work kept under a name, or the last one; undefined where there is none or storage is refused. */
export async function loadWork(
  name?: string,
): Promise<{ readonly name: string; readonly work: KeptWork } | undefined> {
  try {
    const key = name ?? (await get<string>(LAST, store()));
    if (key === undefined) return undefined;
    const work = await get<KeptWork>(`work/${key}`, store());
    return work && { name: key, work };
  } catch {
    return undefined;
  }
}

/** Names are short: they stand in addresses. */
export const freshName = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(6)), (byte) => (byte % 36).toString(36)).join('');

/** A lesson's board on the stage is not the reader's own work. */
const ownHistory = ({ lesson, history }: Atoms): History<RawDesign> => lesson.value?.before ?? history.value;

/** Writes the work a moment after each change, and tells other tabs; storage that is refused is told in `storage`. */
export function keepWork(atoms: Atoms): void {
  const tabs = new BroadcastChannel('strobewright');
  let due = false;
  const write = async (): Promise<void> => {
    rested.cancel();
    if (!due) return;
    due = false;
    const name = atoms.keptAs.value;
    const { past, present, future } = ownHistory(atoms);
    const history = {
      past: past.slice(-KEPT_STEPS),
      present,
      future: future.slice(0, KEPT_STEPS),
      gesture: undefined,
    };
    const work: KeptWork = {
      history,
      place: atoms.place.value,
      core: atoms.core.value,
      bit: atoms.bit.value,
      instant: atoms.instant.value,
      at: Date.now(),
    };
    try {
      await set(`work/${name}`, work, store());
      await set(LAST, name, store());
      atoms.storage.value = { kind: 'kept', at: work.at };
      // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a channel of one origin has none
      tabs.postMessage({ name, design: JSON.stringify(present) });
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      atoms.storage.value = { kind: 'refused', message };
    }
  };
  const rested = afterRest(REST, () => void write());
  effect(() => {
    for (const kept of [
      atoms.history,
      atoms.lesson,
      atoms.keptAs,
      atoms.place,
      atoms.core,
      atoms.bit,
      atoms.instant,
    ])
      void kept.value;
    due = true;
    rested.ask();
  });
  document.addEventListener('visibilitychange', () => void write());
  tabs.addEventListener('message', (event: MessageEvent<{ name: string; design: string }>) => {
    const { name, design } = event.data;
    if (name === atoms.keptAs.value && design !== JSON.stringify(ownHistory(atoms).present))
      atoms.otherTab.value = true;
  });
}
