import { effect } from '@preact/signals-core';
import type { Atoms } from './atoms.ts';
import { freshName, loadWork } from './keep.ts';
import { pack } from './packing.ts';
import { designRefOf, isEmpty, namesDesign, takeAddress, takeWork } from './take-address.ts';
import { afterRest } from '../ui/rest.ts';
import { writeUrl } from './url.ts';
import { urlStateOf } from './url-state.ts';

/** ms after a gesture before the address follows; browsers refuse a page that writes it much oftener. */
const REST = 400;

/** Takes the state from the address, or what was kept when it names no design; from then on the address follows the state. */
export async function followAddress(atoms: Atoms): Promise<void> {
  const kept = await loadWork();
  const fragment = location.hash.slice(1);
  if (kept && !namesDesign(fragment)) takeWork(atoms, kept.name, kept.work);
  if (!isEmpty(fragment)) {
    const same = kept && designRefOf(kept.work.history.present) !== undefined;
    await takeAddress(atoms, fragment);
    // A reload on a demo that is as it was: the way to it is still there to go back.
    if (same && JSON.stringify(kept.work.history.present) === JSON.stringify(atoms.history.value.present)) {
      atoms.history.value = kept.work.history;
      atoms.keptAs.value = kept.name;
    }
  }
  if (atoms.keptAs.value === '') atoms.keptAs.value = freshName();

  let written = '';
  // What this entry of the browser's history is to say once the gestures rest.
  let pending = '';
  let writtenPlace = atoms.place.value;
  // Addresses being taken: until they are, the state is half of one and half of another.
  let taking = 0;
  const write = (): void => {
    const next = `#${addressOf(atoms)}`;
    const place = atoms.place.value;
    const moved = place !== writtenPlace;
    writtenPlace = place;
    if (next === written) return;
    if (moved) history.pushState(undefined, '', next);
    else history.replaceState(undefined, '', next);
    written = next;
  };
  const rested = afterRest(REST, write);
  effect(() => {
    const moved = atoms.place.value !== writtenPlace;
    const next = `#${addressOf(atoms)}`;
    if (taking > 0) return;
    if (!moved) {
      pending = next;
      return rested.ask();
    }
    rested.cancel();
    // Who goes on before the gestures rested must find them when coming back.
    if (pending !== '' && pending !== written) history.replaceState(undefined, '', pending);
    pending = next;
    write();
  });
  window.addEventListener('popstate', () => {
    rested.cancel();
    if (location.hash === written) return;
    written = pending = location.hash;
    taking++;
    void takeAddress(atoms, location.hash.slice(1)).finally(() => {
      taking--;
      writtenPlace = atoms.place.value;
      pending = `#${addressOf(atoms)}`;
      rested.ask();
    });
  });
}

const addressOf = (atoms: Atoms): string => {
  // A step of a lesson says which board it stands on.
  if (atoms.lesson.value?.step !== undefined) return writeUrl(urlStateOf(atoms));
  const { present } = atoms.lesson.value?.before ?? atoms.history.value;
  const design = designRefOf(present) ?? { kind: 'kept', id: atoms.keptAs.value };
  return writeUrl({ ...urlStateOf(atoms), design });
};

/** The whole state as an address that opens anywhere. */
export async function wholeAddress(atoms: Atoms): Promise<string> {
  if (atoms.lesson.value?.step !== undefined) return writeUrl(urlStateOf(atoms));
  const packed = await pack(atoms.history.value.present);
  return writeUrl({ ...urlStateOf(atoms), design: { kind: 'whole', packed } });
}

/** Takes what another tab has kept, or keeps what is here under another name. */
export async function settleTabs(atoms: Atoms, way: 'take' | 'copy'): Promise<void> {
  atoms.otherTab.value = false;
  if (way === 'copy') {
    atoms.keptAs.value = freshName();
    return;
  }
  const kept = await loadWork(atoms.keptAs.value);
  if (kept) takeWork(atoms, kept.name, kept.work);
}
