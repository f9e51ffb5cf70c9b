import { html, nothing, type TemplateResult } from 'lit-html';
import { PATH_TITLES, pathFacts } from '../../model/path-facts.ts';
import { PARTS, type Part } from '../../state/atoms.ts';
import type { Region } from '../../state/page.ts';
import { layout } from '../../ui/layout.ts';
import { matShares } from '../mat/mat-shares.ts';
import './path.css';
import './slider.css';
import { createThumbnail } from './thumbnail.ts';

/** From the drivers to the bit: six parts, each with two facts and what leaves it. */
export const pathRow: Region = (page) => {
  const { atoms, now, act } = page;
  const thumbnail = createThumbnail();
  return () => {
    const design = now.inForce.value;
    const open = atoms.open.value;
    return pathView({
      facts: design && pathFacts(design, now.strobe.value?.time),
      old: now.judgedIsOld.value,
      picture: (part) => {
        const run = now.run.value;
        // Elsewhere there is no room for pictures.
        if (!run || layout.value !== 'wide') return nothing;
        const [bit, span] = [atoms.bit.value, now.span.value];
        const shares = part === 'mat' ? matShares(page).of(run, bit, now.instant.value, span) : undefined;
        return thumbnail({ part, run, bit, span, strobe: now.strobe.value, shares });
      },
      open,
      locked: (part) => atoms.lesson.value?.movable?.includes(part) === false,
      onOpen: (part) => act.openPart(open === part ? undefined : part),
    });
  };
};

export interface PathOptions {
  readonly facts: Readonly<Record<Part, string>> | undefined;
  /** The pictures are of the inputs before the last change. */
  readonly old: boolean;
  readonly picture: (part: Part) => TemplateResult | typeof nothing;
  readonly open: Part | undefined;
  /** A lesson keeps it as it is. */
  readonly locked: (part: Part) => boolean;
  readonly onOpen: (part: Part) => void;
}

export const pathView = ({ facts, old, picture, open, locked, onOpen }: PathOptions): TemplateResult => html`
  <ol class="path ${old ? 'old' : ''}" @keydown=${walk}>
    ${PARTS.map(
      (part) =>
        html`<li>
          <button
            type="button"
            data-part=${part}
            ?disabled=${locked(part)}
            aria-expanded=${part === open ? 'true' : 'false'}
            @click=${() => onOpen(part)}
          >
            <strong>${PATH_TITLES[part]}</strong>
            <span class="small">${facts?.[part] ?? ''}</span>
            ${picture(part)}
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
