import { batch, effect } from '@preact/signals-core';
import { DEMO_DESIGNS } from '../model/demo-designs.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { Atoms } from './atoms.ts';
import { freshName, loadWork, type KeptWork } from './keep.ts';
import { OLD_PREFIX, readOldLink } from './old-link.ts';
import { pack, unpack } from './packing.ts';
import { change, startHistory } from './undo.ts';
import { readUrl, writeUrl, type DesignRef } from './url.ts';
import { takeUrlState, urlStateOf } from './url-state.ts';

/** ms after a gesture before the address follows; browsers refuse a page that writes it much oftener. */
const REST = 400;

const REMEDY = 'ask for the link again, or open the design file.';

/** Takes the state from the address, or what was kept when it names no design; from then on the address follows the state. */
export async function followAddress(atoms: Atoms): Promise<void> {
  const kept = await loadWork();
  const fragment = location.hash.slice(1);
  if (isEmpty(fragment) && kept) takeWork(atoms, kept.name, kept.work);
  else {
    const same = kept && designRefOf(kept.work.history.present) !== undefined;
    await take(atoms, fragment);
    // A reload on a demo that is as it was: the way to it is still there to go back.
    if (same && JSON.stringify(kept.work.history.present) === JSON.stringify(atoms.history.value.present)) {
      atoms.history.value = kept.work.history;
      atoms.keptAs.value = kept.name;
    }
  }
  if (atoms.keptAs.value === '') atoms.keptAs.value = freshName();

  let written = '';
  let writtenPlace = atoms.place.value;
  let timer: ReturnType<typeof setTimeout> | undefined;
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
  effect(() => {
    const moved = atoms.place.value !== writtenPlace;
    addressOf(atoms);
    clearTimeout(timer);
    if (moved) write();
    else timer = setTimeout(write, REST);
  });
  window.addEventListener('popstate', () => {
    clearTimeout(timer);
    if (location.hash === written) return;
    written = location.hash;
    void take(atoms, location.hash.slice(1)).then(() => {
      writtenPlace = atoms.place.value;
    });
  });
}

const isEmpty = (fragment: string): boolean => ['', '/', 'main'].includes(fragment);

const addressOf = (atoms: Atoms): string => {
  const { present } = atoms.history.value;
  const design = designRefOf(present) ?? { kind: 'kept', id: atoms.keptAs.value };
  return writeUrl({ ...urlStateOf(atoms), design });
};

/** The whole state as an address that opens anywhere. */
export async function wholeAddress(atoms: Atoms): Promise<string> {
  const packed = await pack(atoms.history.value.present);
  return writeUrl({ ...urlStateOf(atoms), design: { kind: 'whole', packed } });
}

const demoIds = new Map(DEMO_DESIGNS.map(({ id, raw }) => [JSON.stringify(raw), id]));
const refs = new WeakMap<RawDesign, DesignRef | undefined>();

/** A demo by its name where the design is one, unchanged. */
function designRefOf(raw: RawDesign): DesignRef | undefined {
  if (!refs.has(raw)) {
    const id = demoIds.get(JSON.stringify(raw));
    refs.set(raw, id === undefined ? undefined : { kind: 'demo', id });
  }
  return refs.get(raw);
}

function takeWork(atoms: Atoms, name: string, work: KeptWork): void {
  batch(() => {
    atoms.keptAs.value = name;
    atoms.history.value = work.history;
    atoms.place.value = work.place;
    atoms.core.value = work.core;
    atoms.bit.value = work.bit;
    atoms.instant.value = work.instant;
  });
}

/** Puts an address in place; a part that cannot be read gives a notice, the rest holds. */
async function take(atoms: Atoms, fragment: string): Promise<void> {
  if (isEmpty(fragment)) return;
  if (fragment.startsWith(OLD_PREFIX)) {
    const old = await readOldLink(fragment);
    if (!old) {
      atoms.notice.value = `The link is damaged (cut off or mistyped); ${REMEDY}`;
      return;
    }
    atoms.history.value = startHistory(old.raw);
    takeUrlState(atoms, old.state);
    return;
  }
  const { state, bad } = readUrl(fragment);
  const lost = state.design && (await takeDesign(atoms, state.design));
  takeUrlState(atoms, state);
  if (bad.length > 0 || lost)
    atoms.notice.value = [
      bad.length > 0 ? `Of the address this could not be read: ${bad.join(', ')}. The rest holds.` : '',
      lost ?? '',
    ]
      .filter(Boolean)
      .join(' ');
}

/** Returns what is wrong, in one sentence. */
async function takeDesign(atoms: Atoms, ref: DesignRef): Promise<string | undefined> {
  if (ref.kind === 'demo') {
    const demo = DEMO_DESIGNS.find(({ id }) => id === ref.id);
    if (!demo) return `There is no demo design named ${ref.id}; another is shown instead.`;
    putDesign(atoms, demo.raw);
    return undefined;
  }
  if (ref.kind === 'kept') {
    if (ref.id === atoms.keptAs.value) return undefined;
    const kept = await loadWork(ref.id);
    if (!kept) return `The design of this address was kept in another browser, or is gone; ${REMEDY}`;
    takeWork(atoms, kept.name, kept.work);
    return undefined;
  }
  const raw = await unpack(ref.packed);
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw))
    return `The link is damaged (cut off or mistyped); ${REMEDY}`;
  putDesign(atoms, raw as RawDesign);
  return undefined;
}

function putDesign(atoms: Atoms, raw: RawDesign): void {
  const now = atoms.history.value;
  if (JSON.stringify(now.present) === JSON.stringify(raw)) return;
  atoms.history.value = atoms.keptAs.value === '' ? startHistory(raw) : change(now, raw);
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
