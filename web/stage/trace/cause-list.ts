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

/** The causes with the colour of each; one of them can be picked out, and let go by a second press. */
export const causeList = ({ picked, width, em, onPick }: CauseListOptions): TemplateResult =>
  html`<div class="cause-list" role="group" aria-label="Pick out one cause">
    ${CAUSES.map(
      ({ key, title, short }) =>
        html`<button
          type="button"
          data-cause=${key}
          title=${title}
          aria-label=${title}
          aria-pressed=${key === picked ? 'true' : 'false'}
          @click=${() => onPick(key === picked ? undefined : key)}
        >
          <span class="swatch"></span>${width >= NAMES_ROOM * em ? short : ''}
        </button>`,
    )}
  </div>`;
