import { html, nothing } from 'lit-html';
import { settleTabs } from '../state/address.ts';
import type { Region } from '../state/page.ts';
import { iconView } from '../ui/icon-view.ts';

/** What the reader must be told, until dismissed. */
export const notices: Region =
  ({ atoms, act }) =>
  () => {
    const text = atoms.notice.value;
    return html`
      ${
        text === undefined
          ? nothing
          : html`<div class="notice">
              <p>${iconView('warning')}${text}</p>
              <button type="button" @click=${() => act.say(undefined)}>Dismiss</button>
            </div>`
      }
      ${
        atoms.otherTab.value
          ? html`<div class="notice">
              <p>${iconView('warning')}This design was changed in another tab.</p>
              <button type="button" @click=${() => void settleTabs(atoms, 'take')}>Take it</button>
              <button type="button" @click=${() => void settleTabs(atoms, 'copy')}>
                Keep mine as a copy
              </button>
            </div>`
          : nothing
      }
    `;
  };
