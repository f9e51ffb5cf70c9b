import { html, type TemplateResult } from 'lit-html';
import type { Page } from '../../state/page.ts';
import { ladders } from './scale-ladder.ts';

/** What the lanes show, by plain buttons; the wheel is left to the page. */
export const zoomButtons = (page: Page): TemplateResult => {
  const { atoms, now, act } = page;
  const axis = ladders(page);
  const shown = (atoms.heard.value === 'latch' ? axis.latch : axis.signed).value;
  const held = atoms.scale.value !== undefined;
  return html`
    <span class="zoom button-row" role="group" aria-label="What the lanes show">
      <button type="button" aria-label="Zoom in" @click=${() => act.zoom(0.5)}>+</button>
      <button type="button" aria-label="Zoom out" @click=${() => act.zoom(2)}>−</button>
      <button type="button" aria-label="Earlier" @click=${() => act.pan(-0.25)}>←</button>
      <button type="button" aria-label="Later" @click=${() => act.pan(0.25)}>→</button>
      <button type="button" @click=${() => act.setSpan(undefined)}>Read</button>
      <button type="button" @click=${() => act.setSpan(now.cycle.value)}>Cycle</button>
      <button
        type="button"
        aria-pressed=${held ? 'true' : 'false'}
        @click=${() => {
          atoms.scale.value = held || !shown ? undefined : Math.max(shown.high, -shown.low);
        }}
      >
        Hold scale
      </button>
    </span>
  `;
};
