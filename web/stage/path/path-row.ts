import { html, type TemplateResult } from 'lit-html';
import { PATH_TITLES, pathFacts } from '../../model/path-facts.ts';
import { PARTS, type Part } from '../../state/atoms.ts';
import type { Region } from '../../state/page.ts';
import './path.css';

/** From the drivers to the bit: six parts, each with two facts and what leaves it. */
export const pathRow: Region =
  ({ atoms, now, act }) =>
  () => {
    const design = now.inForce.value;
    const open = atoms.open.value;
    return pathView({
      facts: design && pathFacts(design, now.strobe.value?.time),
      open,
      onOpen: (part) => act.openPart(open === part ? undefined : part),
    });
  };

export interface PathOptions {
  readonly facts: Readonly<Record<Part, string>> | undefined;
  readonly open: Part | undefined;
  readonly onOpen: (part: Part) => void;
}

export const pathView = ({ facts, open, onOpen }: PathOptions): TemplateResult => html`
  <ol class="path" @keydown=${walk}>
    ${PARTS.map(
      (part) =>
        html`<li>
          <button
            type="button"
            data-part=${part}
            aria-expanded=${part === open ? 'true' : 'false'}
            @click=${() => onOpen(part)}
          >
            <strong>${PATH_TITLES[part]}</strong>
            <span class="small">${facts?.[part] ?? ''}</span>
          </button>
        </li>`,
    )}
  </ol>
`;

/** Arrows go from part to part. */
function walk(event: KeyboardEvent): void {
  const by = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
  const parts = [...(event.currentTarget as Element).querySelectorAll('button')];
  const next = parts[parts.indexOf(event.target as HTMLButtonElement) + by];
  if (by === 0 || !next) return;
  event.preventDefault();
  next.focus();
}
