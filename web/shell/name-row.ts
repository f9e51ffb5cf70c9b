import { html } from 'lit-html';
import { designSentence } from '../model/design-sentence.ts';
import { rawAt } from '../model/pointer.ts';
import { PLACES, type Place } from '../state/place.ts';
import type { Region } from '../state/page.ts';
import { designMenu } from './design-menu.ts';
import { shareMenu } from './share-menu.ts';
import './name-row.css';
import { viewMenu } from './view-menu.ts';

const TITLES: Readonly<Record<Place['name'], string>> = {
  plan: 'Plan',
  bench: 'Bench',
  learn: 'Learn',
  words: 'Words',
};

/** Mark, places, the design with one sentence saying what it is, undo, open, share, view. */
export const nameRow: Region = (page) => {
  const { atoms, now, act } = page;
  const share = shareMenu(page);
  const design = designMenu(page);
  const view = viewMenu(page);
  return () => {
    const { past, future } = atoms.history.value;
    const lesson = atoms.lesson.value;
    const playing = lesson?.step !== undefined;
    const place = playing ? 'learn' : atoms.place.value.name;
    // What the currents are would tell what is asked for.
    const told = !lesson?.covered?.includes('currents');
    const name = String(rawAt(now.raw.value, '/name') ?? 'Untitled design');
    const inForce = now.inForce.value;
    return html`
      <span class="brand">${mark}<span class="brand-name">Strobewright</span></span>
      <nav class="places" aria-label="Places">
        ${PLACES.map(
          (each) =>
            html`<a
              href="#/${each}"
              aria-current=${each === place ? 'page' : 'false'}
              @click=${(event: Event) => {
                event.preventDefault();
                act.go({ name: each });
              }}
              >${TITLES[each]}</a
            >`,
        )}
      </nav>
      <div class="name-of-design">${design(name)}</div>
      <p class="sentence">${inForce && told ? designSentence(inForce) : ''}</p>
      <div class="tools">
        <button
          type="button"
          aria-keyshortcuts="Control+Z"
          ?disabled=${past.length <= (playing ? lesson.depth : 0)}
          @click=${act.undo}
        >
          Undo
        </button>
        <button
          type="button"
          class="redo"
          aria-keyshortcuts="Control+Shift+Z"
          ?disabled=${future.length === 0}
          @click=${act.redo}
        >
          Redo
        </button>
        ${share()} ${view()}
      </div>
    `;
  };
};

const mark = html`<svg viewBox="0 0 32 32" aria-hidden="true" class="mark">
  <ellipse cx="16" cy="16" rx="5.5" ry="10" transform="rotate(45 16 16)" />
  <path d="M16 2v28M2 16h28" />
</svg>`;
