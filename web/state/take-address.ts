import { batch } from '@preact/signals-core';
import { DEMO_DESIGNS } from '../model/demo-designs.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { Atoms } from './atoms.ts';
import { loadWork, type KeptWork } from './keep.ts';
import { OLD_PREFIX, readOldLink } from './old-link.ts';
import { unpack } from './packing.ts';
import { change, startHistory } from './undo.ts';
import { readUrl, type DesignRef } from './url.ts';
import { takeUrlState } from './url-state.ts';

const REMEDY = 'ask for the link again, or open the design file.';

/** Of the links of old each holds a design. */
export const namesDesign = (fragment: string): boolean =>
  fragment.startsWith(OLD_PREFIX) || readUrl(fragment).state.design !== undefined;

export const isEmpty = (fragment: string): boolean => ['', '/', 'main'].includes(fragment);

const demoIds = new Map(DEMO_DESIGNS.map(({ id, raw }) => [JSON.stringify(raw), id]));
const refs = new WeakMap<RawDesign, DesignRef | undefined>();

/** A demo by its name where the design is one, unchanged. */
export function designRefOf(raw: RawDesign): DesignRef | undefined {
  if (!refs.has(raw)) {
    const id = demoIds.get(JSON.stringify(raw));
    refs.set(raw, id === undefined ? undefined : { kind: 'demo', id });
  }
  return refs.get(raw);
}

export function takeWork(atoms: Atoms, name: string, work: KeptWork): void {
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
export async function takeAddress(atoms: Atoms, fragment: string): Promise<void> {
  if (isEmpty(fragment)) return;
  // The board of a lesson goes with the address that it stood at.
  const { lesson } = atoms;
  if (lesson.value) {
    atoms.history.value = lesson.value.before;
    lesson.value = undefined;
  }
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
