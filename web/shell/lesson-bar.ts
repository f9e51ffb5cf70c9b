import { effect } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import { COVERS, MOVABLES } from '../state/lesson-board.ts';
import type { Page, Region } from '../state/page.ts';
import './lesson-bar.css';

/** Over the stage while a lesson's board stands on it: whose it is, and the way back. */
export const lessonBar: Region =
  ({ atoms, act }) =>
  () => {
    const lesson = atoms.lesson.value;
    if (!lesson || lesson.step !== undefined || atoms.place.value.name !== 'plan') return nothing;
    const { title, question, covered = [], movable } = lesson;
    const locked =
      movable === undefined
        ? ''
        : movable.length === 0
          ? 'Nothing may be moved until it is answered.'
          : `Until it is answered you may move: ${movable.join(', ')}.`;
    return html`<div class="lesson-bar">
      <p>
        <strong>${title}</strong> ${question}
        <span class="note small">
          ${locked} ${covered.length > 0 ? `Covered: ${covered.join(', ')}.` : nothing}
        </span>
      </p>
      <button type="button" @click=${act.backToLesson}>Back to the lesson</button>
      ${
        movable === undefined && covered.length === 0
          ? html`<button type="button" @click=${act.keepBoard}>Keep this board</button>`
          : nothing
      }
    </div>`;
  };

const COVERED_TEXT = 'Covered until the question is answered';

/** What is covered is not there for anybody, however the page is read; what is locked has no grip. */
export function coverStage({ atoms }: Page, main: HTMLElement): void {
  effect(() => {
    const lesson = atoms.lesson.value;
    const covered = lesson?.covered ?? [];
    const movable = lesson?.movable;
    main.dataset['lesson'] = lesson?.step ?? '';
    main.dataset['covered'] = covered.join(' ');
    main.dataset['locked'] = movable ? MOVABLES.filter((name) => !movable.includes(name)).join(' ') : '';
    for (const name of COVERS) {
      const section = main.querySelector<HTMLElement>(`.stage > .${name}`);
      if (!section) continue;
      if (covered.includes(name)) section.dataset['cover'] = COVERED_TEXT;
      else delete section.dataset['cover'];
    }
  });
}
