import { html, type TemplateResult } from 'lit-html';
import { ICON_SHAPES, type IconName } from './icons.ts';

/** A small line drawing as a template; always beside a word, so hidden from readers of the page's text. */
export const iconView = (name: IconName): TemplateResult =>
  html`<svg viewBox="0 0 16 16" class="icon icon-${name}" aria-hidden="true" focusable="false">
    <path d=${ICON_SHAPES[name]} />
  </svg>`;
