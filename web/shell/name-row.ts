import { html, nothing, type TemplateResult } from 'lit-html';
import { designSentence } from '../model/design-sentence.ts';
import { rawAt } from '../model/pointer.ts';
import { PLACES, type Place } from '../state/place.ts';
import type { Region } from '../state/page.ts';
import { layout } from '../ui/layout.ts';
import { menu } from '../ui/menu.ts';
import { designMenu } from './design-menu.ts';
import { shareEntries } from './share-menu.ts';
import './name-row.css';
import { viewEntries } from './view-menu.ts';

const TITLES: Readonly<Record<Place['name'], string>> = {
  plan: 'Plan',
  bench: 'Bench',
  learn: 'Learn',
  words: 'Words',
};

/** Mark, places, the design with one sentence saying what it is, undo, open, share, view. */
export const nameRow: Region = (page) => {
  const { atoms, now, act } = page;
  const share = shareEntries(page);
  const design = designMenu(page);
  const view = viewEntries(page);
  return () => {
    const { past, future } = atoms.history.value;
    const lesson = atoms.lesson.value;
    const playing = lesson?.step !== undefined;
    const place = playing ? 'learn' : atoms.place.value.name;
    // What the currents are would tell what is asked for.
    const told = !lesson?.covered?.includes('currents');
    const name = String(rawAt(now.raw.value, '/name') ?? 'Untitled design');
    const inForce = now.inForce.value;
    // On a phone one row holds the name, undo and all the rest in one menu.
    const narrow = layout.value === 'narrow';
    const places = placesView(place, act.go);
    return html`
      <span class="brand">${mark}<span class="brand-name">Strobewright</span></span>
      ${narrow ? nothing : places}
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
        ${
          narrow
            ? menu(MORE, html`${places}${share()}${view()}`, 'more-menu')
            : html`${menu('Share', share(), 'share-menu')}${menu('View', view(), 'view-menu')}`
        }
      </div>
    `;
  };
};

const MORE = html`<span aria-hidden="true">⋯</span><span class="visually-hidden">Places, share, view</span>`;

const placesView = (here: Place['name'], go: (place: Partial<Place>) => void): TemplateResult =>
  html`<nav class="places" aria-label="Places">
    ${PLACES.map(
      (each) =>
        html`<a
          href="#/${each}"
          aria-current=${each === here ? 'page' : 'false'}
          @click=${(event: Event) => {
            event.preventDefault();
            go({ name: each });
          }}
          >${TITLES[each]}</a
        >`,
    )}
  </nav>`;

const mark = html`<svg viewBox="0 0 32 32" aria-hidden="true" class="mark">
  <ellipse cx="16" cy="16" rx="5.5" ry="10" transform="rotate(45 16 16)" />
  <path d="M16 2v28M2 16h28" />
</svg>`;
