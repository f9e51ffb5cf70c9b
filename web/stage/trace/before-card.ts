import { html, nothing, type TemplateResult } from 'lit-html';
import type { Page } from '../../state/page.ts';

export interface BeforeCardOptions {
  /** V gained since; undefined at the corners while one of the two is not known. */
  readonly difference: { readonly nominal: number; readonly corners: number | undefined };
  readonly onPin: () => void;
  readonly onHide: () => void;
}

/** What the dotted lines are, and what the change has brought. */
const beforeCardView = ({ difference, onPin, onHide }: BeforeCardOptions): TemplateResult => html`
  <div class="before-card" role="group" aria-label="Before the last change">
    <p><strong>Dotted: before the last change.</strong> Since then</p>
    <p>
      as designed <strong>${gained(difference.nominal)}</strong>, at the corners
      <strong>${difference.corners === undefined ? 'being computed' : gained(difference.corners)}</strong>
    </p>
    <p class="button-row">
      <button type="button" @click=${onPin}>Pin it</button>
      <button type="button" @click=${onHide}>Hide</button>
    </p>
  </div>
`;

/** "+2.6 mV", "−0.4 mV", "±0 mV": always in millivolts, so that two stand in one unit; a tenth of a millivolt is what is known. */
export function gained(volts: number): string {
  const rounded = Math.round(volts * 1e4) / 1e4;
  if (rounded === 0) return '±0 mV';
  return `${rounded > 0 ? '+' : '−'}${Math.abs(rounded * 1e3).toFixed(1)} mV`;
}

/** Over the signal lane after a change of the design, until it is hidden or the next change replaces it. */
export function beforeCard({ atoms, now, act }: Page): TemplateResult | typeof nothing {
  const [before, difference] = [now.before.value, now.difference.value];
  if (!before || !difference || atoms.heard.value !== 'latch') return nothing;
  return beforeCardView({
    difference,
    onPin: () => act.pin(before),
    onHide: () => {
      atoms.beforeOn.value = false;
    },
  });
}
