import { html, nothing, type TemplateResult } from 'lit-html';
import { iconView } from '../../ui/icon-view.ts';
import { courseTitle } from '../made/course-steps.ts';
import { isOwn, type MadeStep } from '../made/lesson.ts';
import type { MadeWords } from '../words/made-words.ts';
import type { Draft } from './draft.ts';
import { dragStep } from './drag-step.ts';

export const titleOf = (w: MadeWords, step: MadeStep): string =>
  isOwn(step) ? step.title || w.maker.emptyTitle : courseTitle(w, step.course);

const kindOf = (w: MadeWords, step: MadeStep): string =>
  isOwn(step) ? w.kinds[step.ask.kind] : w.maker.fromCourse;

/** The steps in their order, to be chosen, moved and taken out. */
export const stepsList = (w: MadeWords, draft: Draft): TemplateResult => {
  const { steps } = draft.lesson.value;
  const checks = draft.checks.value;
  if (steps.length === 0) return html`<p class="note">${w.maker.noSteps}</p>`;
  return html`<ol class="maker-steps">
    ${steps.map((step, place) => {
      const title = titleOf(w, step);
      const standing = checks.get(step)?.standing;
      const sign = standing === 'ok' ? 'ok' : standing === 'refused' ? 'error' : undefined;
      return html`<li>
        <span
          class="maker-grip"
          title=${w.maker.drag(title)}
          aria-hidden="true"
          @pointerdown=${(event: PointerEvent) => dragStep(event, place, (to) => draft.move(place, to))}
          >⠿</span
        >
        <button
          type="button"
          class="maker-step"
          aria-pressed=${place === draft.chosen.value ? 'true' : 'false'}
          @click=${() => {
            draft.chosen.value = place;
          }}
          @keydown=${(event: KeyboardEvent) => {
            if (!event.altKey || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return;
            event.preventDefault();
            draft.move(place, event.key === 'ArrowUp' ? place - 1 : place + 1);
          }}
        >
          <span>${sign ? iconView(sign) : nothing}${place + 1} ${title}</span>
          <span class="note small">${kindOf(w, step)}</span>
        </button>
        <button
          type="button"
          aria-label=${w.maker.up(title)}
          ?disabled=${place === 0}
          @click=${() => draft.move(place, place - 1)}
        >
          ↑
        </button>
        <button
          type="button"
          aria-label=${w.maker.down(title)}
          ?disabled=${place === steps.length - 1}
          @click=${() => draft.move(place, place + 1)}
        >
          ↓
        </button>
        <button type="button" aria-label=${w.maker.remove(title)} @click=${() => draft.remove(place)}>
          ×
        </button>
      </li>`;
    })}
  </ol>`;
};
