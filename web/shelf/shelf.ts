import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import { changedSince } from '../model/changed-since.ts';
import { DRAWERS, type Drawer } from '../state/atoms.ts';
import type { Region } from '../state/page.ts';
import { layout } from '../ui/layout.ts';
import { reloadIfBack } from '../ui/reload-if-back.ts';
import { boxOf, type Box, type View } from '../ui/mount.ts';
import { planLanes } from '../stage/trace/lane-plan.ts';
import { iconView } from '../ui/icon-view.ts';
import './shelf.css';

const TITLES: Readonly<Record<Drawer, string>> = {
  studies: 'Studies',
  propose: 'Propose a build',
  pinned: 'Pinned',
  inputs: 'All inputs',
  cases: 'Cases',
  warnings: 'Warnings',
};

/** What belongs to no instant: a line of drawers that open upward, each with its count and worst state. */
export const shelf: Region = (page) => {
  const { atoms, now, act } = page;
  const drawers = signal<((drawer: Drawer, box: Box) => View) | undefined>(undefined);
  const missing = signal(false);
  const trace = boxOf(document.querySelector<HTMLElement>('.trace')!);
  let asked = false;
  // Fetched when the first one is opened: the stage comes first.
  const fetchDrawers = async (tried = false): Promise<void> => {
    asked = true;
    try {
      drawers.value = (await import('./drawers.ts')).createDrawers(page);
      missing.value = false;
    } catch {
      if (tried && (await reloadIfBack())) return;
      missing.value = true;
    }
  };
  return (box) => {
    const open = DRAWERS.find((drawer) => drawer === atoms.place.value.part);
    if (open && !asked) void fetchDrawers();
    const outOfDate = atoms.studies.value.filter(({ raw }) => changedSince(raw, now.raw.value)).length;
    const warnings = now.run.value?.warnings.length ?? 0;
    const counts: Readonly<Record<Drawer, string>> = {
      studies: studyCount(atoms.studies.value.length, outOfDate),
      propose: '',
      pinned: atoms.pins.value.length > 0 ? String(atoms.pins.value.length) : '',
      inputs: now.faults.value.length > 0 ? `${now.faults.value.length} refused` : '',
      cases: now.strobe.value && !now.judgedIsOld.value ? `${now.strobe.value.cases.length} runs` : '',
      warnings: warnings > 0 ? String(warnings) : 'none',
    };
    const worry = (drawer: Drawer): boolean =>
      (drawer === 'studies' && outOfDate > 0) ||
      (drawer === 'warnings' && warnings > 0) ||
      (drawer === 'inputs' && now.faults.value.length > 0);
    return html`
      ${
        open
          ? html`<div class="drawer" data-drawer=${open} .style=${placeUnder(trace.value)}>
              <div class="card-head">
                <h2>${TITLES[open]}</h2>
                <button type="button" @click=${() => act.go({ name: 'plan' })}>Close</button>
              </div>
              ${drawers.value?.(open, box) ?? (missing.value ? notFetched(() => void fetchDrawers(true)) : html`<p class="note">Being fetched.</p>`)}
            </div>`
          : nothing
      }
      <div class="shelf-line">
        ${DRAWERS.map(
          (drawer) =>
            html`<button
              type="button"
              data-tab=${drawer}
              aria-expanded=${drawer === open ? 'true' : 'false'}
              @click=${() => act.go({ name: 'plan', part: drawer === open ? '' : drawer })}
            >
              <strong>${TITLES[drawer]}</strong>&nbsp;${worry(drawer) ? iconView('warning') : nothing}<span
                class="note small"
                >${counts[drawer]}</span
              >
            </button>`,
        )}
        <span class="kept note small">${keptText(atoms.storage.value, atoms.online.value)}</span>
      </div>
    `;
  };
};

/** "3", "3, one out of date". */
function studyCount(all: number, outOfDate: number): string {
  if (all === 0) return '';
  return outOfDate === 0 ? String(all) : `${all}, ${outOfDate === 1 ? 'one' : outOfDate} out of date`;
}

/** px over the lanes of a wide page while a drawer is open, and of the shelf's own line under it. */
const OVER = 142;
const LINE = 37;

/** Under the signal lane, which stays in view beside what is changed in the drawer; at most six tenths of the window. */
function placeUnder(box: Box): string {
  if (layout.value !== 'wide') return '';
  const taken = OVER * box.em + planLanes(box, undefined).signal + LINE;
  return `max-height: max(12rem, min(60dvh, 100dvh - ${Math.round(taken)}px))`;
}

const notFetched = (again: () => void): TemplateResult => html`
  <p class="note">The shelf could not be fetched: look after the connection.</p>
  <button type="button" @click=${again}>Try again</button>
`;

function keptText(storage: { readonly kind: string; readonly at?: number }, online: boolean): string {
  const offline = online ? '' : ' · offline';
  if (storage.kind === 'refused')
    return `Not kept: this browser refuses storage. Save the design as a file.${offline}`;
  if (storage.kind === 'starting') return offline;
  return `Kept in this browser, ${CLOCK.format(storage.at)}${offline}`;
}

const CLOCK = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });
