import { batch } from '@preact/signals-core';
import type { Atoms } from './atoms.ts';
import type { UrlState } from './url.ts';

/** What of the atoms an address holds; left out where it is as at first. The design comes beside it. */
export function urlStateOf(atoms: Atoms): Omit<UrlState, 'design'> {
  const { paper, projector, beside } = atoms.view.value;
  const unless = <T>(value: T, first: T): T | undefined => (value === first ? undefined : value);
  return {
    place: atoms.place.value,
    core: atoms.core.value,
    bit: unless(atoms.bit.value, 1),
    instant: atoms.instant.value,
    span: atoms.span.value,
    scale: atoms.scale.value,
    heard: unless(atoms.heard.value, 'latch'),
    marks: atoms.marks.value,
    open: atoms.open.value,
    evidence: atoms.evidence.value,
    matShows: unless(atoms.matShows.value, 'gives'),
    causes: unless(atoms.causes.value, 'alone'),
    find: unless(atoms.find.value, ''),
    narrowView: unless(atoms.narrowView.value, 'trace'),
    paper: unless(paper, 'system'),
    projector: projector || undefined,
    beside: unless(beside, 'margin'),
    language: unless(atoms.language.value, 'en'),
  };
}

/** Puts what an address says in place; what it leaves out goes back to how it was at first. */
export function takeUrlState(atoms: Atoms, state: UrlState): void {
  batch(() => {
    atoms.place.value = state.place;
    atoms.core.value = state.core;
    atoms.bit.value = state.bit ?? 1;
    atoms.instant.value = state.instant;
    atoms.span.value = state.span;
    atoms.scale.value = state.scale;
    atoms.heard.value = state.heard ?? 'latch';
    atoms.marks.value = state.marks;
    atoms.open.value = state.open;
    atoms.evidence.value = state.evidence;
    atoms.matShows.value = state.matShows ?? 'gives';
    atoms.causes.value = state.causes ?? 'alone';
    atoms.find.value = state.find ?? '';
    atoms.narrowView.value = state.narrowView ?? 'trace';
    if (state.language) atoms.language.value = state.language;
    atoms.view.value = {
      ...atoms.view.value,
      paper: state.paper ?? 'system',
      projector: state.projector ?? false,
      beside: state.beside ?? 'margin',
    };
  });
}
