import { html, type TemplateResult } from 'lit-html';
import type { Page } from '../../state/page.ts';

/** What the lanes show, by plain buttons; the wheel is left to the page. */
export const zoomButtons = ({ atoms, now, act }: Page): TemplateResult => html`
  <span class="zoom button-row" role="group" aria-label="What the lanes show">
    <button type="button" aria-label="Zoom in" @click=${() => act.zoom(0.5)}>+</button>
    <button type="button" aria-label="Zoom out" @click=${() => act.zoom(2)}>−</button>
    <button type="button" aria-label="Earlier" @click=${() => act.pan(-0.25)}>←</button>
    <button type="button" aria-label="Later" @click=${() => act.pan(0.25)}>→</button>
    <button type="button" @click=${() => act.setSpan(undefined)}>Read</button>
    <button type="button" @click=${() => act.setSpan(now.cycle.value)}>Cycle</button>
    <button
      type="button"
      ?hidden=${atoms.scale.value === undefined}
      @click=${() => {
        atoms.scale.value = undefined;
      }}
    >
      Scale back
    </button>
  </span>
`;
