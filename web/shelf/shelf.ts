import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import { DRAWERS, type Drawer } from '../state/atoms.ts';
import type { Region } from '../state/page.ts';
import type { Box, View } from '../ui/mount.ts';
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
  let asked = false;
  // Fetched when the first one is opened: the stage comes first.
  const fetchDrawers = async (): Promise<void> => {
    asked = true;
    try {
      drawers.value = (await import('./drawers.ts')).createDrawers(page);
      missing.value = false;
    } catch {
      missing.value = true;
    }
  };
  return (box) => {
    const open = DRAWERS.find((drawer) => drawer === atoms.place.value.part);
    if (open && !asked) void fetchDrawers();
    const warnings = now.run.value?.warnings.length ?? 0;
    const counts: Readonly<Record<Drawer, string>> = {
      studies: '',
      propose: '',
      pinned: atoms.pins.value.length > 0 ? String(atoms.pins.value.length) : '',
      inputs: now.faults.value.length > 0 ? `${now.faults.value.length} refused` : '',
      cases: now.strobe.value && !now.judgedIsOld.value ? `${now.strobe.value.cases.length} runs` : '',
      warnings: warnings > 0 ? String(warnings) : 'none',
    };
    const worry = (drawer: Drawer): boolean =>
      (drawer === 'warnings' && warnings > 0) || (drawer === 'inputs' && now.faults.value.length > 0);
    return html`
      ${
        open
          ? html`<div class="drawer" data-drawer=${open}>
              <div class="card-head">
                <h2>${TITLES[open]}</h2>
                <button type="button" @click=${() => act.go({ name: 'plan' })}>Close</button>
              </div>
              ${drawers.value?.(open, box) ?? (missing.value ? notFetched(() => void fetchDrawers()) : html`<p class="note">Being fetched.</p>`)}
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
