import { html } from 'lit-html';
import { NARROW_VIEWS, type Atoms } from '../state/atoms.ts';
import type { Region } from '../state/page.ts';

const TITLES: Readonly<Record<Atoms['narrowView']['value'], string>> = {
  trace: 'Trace',
  mat: 'Mat',
  core: 'Core',
  margin: 'Margin',
  studies: 'Studies',
};

/** On a narrow page: one view at a time. */
export const narrowTabs: Region =
  ({ atoms, act }) =>
  () => html`
    ${NARROW_VIEWS.map(
      (view) =>
        html`<button
          type="button"
          aria-current=${view === atoms.narrowView.value ? 'true' : 'false'}
          @click=${() => {
            atoms.narrowView.value = view;
            act.go({ part: view === 'studies' ? 'studies' : '' });
          }}
        >
          ${TITLES[view]}
        </button>`,
    )}
  `;
