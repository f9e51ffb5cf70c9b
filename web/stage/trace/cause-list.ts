import { html, type TemplateResult } from 'lit-html';
import './cause-list.css';
import { CAUSES, type Cause } from '../../model/traces.ts';

/** px for the short names of the causes beside the lane's title and its two ways. */
const NAMES_ROOM = 620;

export interface CauseListOptions {
  readonly picked: Cause | undefined;
  /** px of the lane; where there is too little the swatches stand alone. */
  readonly width: number;
  readonly em: number;
  readonly onPick: (cause: Cause | undefined) => void;
}

/** Arrow keys go round the buttons of a group. */
function goRound(event: KeyboardEvent): void {
  const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
  if (by === undefined) return;
  const buttons = [...(event.currentTarget as Element).querySelectorAll('button')];
  const from = buttons.indexOf(event.target as HTMLButtonElement);
  buttons.at((from + by) % buttons.length)?.focus();
  event.preventDefault();
}

/**
 * The causes with the colour of each; one of them can be picked out, and let go by a second press. One stop of the
 * keyboard, at the one that is picked out.
 */
export const causeList = ({ picked, width, em, onPick }: CauseListOptions): TemplateResult =>
  html`<div class="cause-list" role="group" aria-label="Pick out one cause" @keydown=${goRound}>
    ${CAUSES.map(
      ({ key, title, short }, i) =>
        html`<button
          type="button"
          data-cause=${key}
          tabindex=${(picked === undefined ? i === 0 : key === picked) ? 0 : -1}
          title=${title}
          aria-label=${title}
          aria-pressed=${key === picked ? 'true' : 'false'}
          @click=${() => onPick(key === picked ? undefined : key)}
        >
          <span class="swatch"></span>${width >= NAMES_ROOM * em ? short : ''}
        </button>`,
    )}
  </div>`;
