import { html, nothing, type TemplateResult } from 'lit-html';
import { changedSince } from '../model/changed-since.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { DoneStudy } from '../state/atoms.ts';
import { iconView } from '../ui/icon-view.ts';

export interface StudyCardsOptions {
  readonly done: readonly DoneStudy[];
  readonly now: RawDesign;
  /** The one whose charts stand below. */
  readonly looked: DoneStudy | undefined;
  readonly running: boolean;
  readonly onLook: (study: DoneStudy) => void;
  /** The same question of the design as it is now. */
  readonly onAgain: (study: DoneStudy) => void;
}

/** What came out so far: each with its question, seed and first finding, and whether it still is of this design. */
export const studyCards = (options: StudyCardsOptions): TemplateResult | typeof nothing =>
  options.done.length === 0
    ? nothing
    : html`<div class="study-cards">${options.done.map((item) => card(item, options))}</div>`;

function card(item: DoneStudy, { now, looked, running, onLook, onAgain }: StudyCardsOptions): TemplateResult {
  const { study, title, raw } = item;
  const changed = changedSince(raw, now);
  const { done, planned } = study.count;
  return html`<article class="study-card ${changed ? 'out-of-date' : ''}">
    <h3>${title}</h3>
    <p class="note small">
      ${study.partial ? `${done} of ${planned} points` : `${planned} points`}, seed
      ${study.seed}${asked(study)}
    </p>
    <p class="small">${study.findings[0] ?? ''}</p>
    <p class="small ${changed ? 'status-warning' : 'status-ok'}">
      ${iconView(changed ? 'warning' : 'ok')}${changed ? `Out of date: ${changed}.` : 'Of this design.'}
    </p>
    <p class="button-row">
      <button type="button" aria-pressed=${String(item === looked)} @click=${() => onLook(item)}>
        Look at it
      </button>
      <button type="button" ?disabled=${running} @click=${() => onAgain(item)}>Compute again</button>
    </p>
  </article>`;
}

/** "; sizes 4,8", what was asked for, short. */
function asked({ plan: { options } }: DoneStudy['study']): string {
  const text = Object.entries(options)
    .map(([name, value]) => `${name} ${typeof value === 'string' ? value : JSON.stringify(value)}`)
    .join(', ');
  if (text === '') return '';
  return `; ${text.length > 60 ? `${text.slice(0, 59)}…` : text}`;
}
