import { html } from 'lit-html';
import { NARROW_VIEWS, type Atoms } from '../state/atoms.ts';
import type { Region } from '../state/page.ts';

const TITLES: Readonly<Record<Atoms['narrowView']['value'], string>> = {
  question: 'Question',
  trace: 'Trace',
  mat: 'Mat',
  core: 'Core',
  margin: 'Margin',
  studies: 'Studies',
};

/** A step of a lesson is played beside the stage. */
const playing = ({ lesson }: Atoms): boolean => lesson.value?.step !== undefined;

const HERE: Readonly<Record<'plan' | 'lesson', (view: Atoms['narrowView']['value']) => boolean>> = {
  plan: (view) => view !== 'question',
  lesson: (view) => view !== 'studies' && view !== 'margin',
};

/** On a narrow page: one view at a time. */
export const narrowTabs: Region =
  ({ atoms, act }) =>
  () => html`
    ${NARROW_VIEWS.filter((view) => HERE[playing(atoms) ? 'lesson' : 'plan'](view)).map(
      (view) =>
        html`<button
          type="button"
          aria-current=${view === atoms.narrowView.value ? 'true' : 'false'}
          @click=${() => {
            atoms.narrowView.value = view;
            if (!playing(atoms)) act.go({ part: view === 'studies' ? 'studies' : '' });
          }}
        >
          ${TITLES[view]}
        </button>`,
    )}
  `;
