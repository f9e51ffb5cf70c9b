import { html, nothing, type TemplateResult } from 'lit-html';
import { iconView } from './icon-view.ts';

/** What is wrong with one field. */
export interface FieldRefusal {
  readonly field: string;
  readonly message: string;
}

/** What is wrong with a field, beside it; hidden while nothing is. */
export const fieldError = (id: string, message: string | undefined): TemplateResult =>
  html`<p class="field-error" id=${id} role="alert" ?hidden=${message === undefined}>
    ${message === undefined ? nothing : [iconView('error'), message]}
  </p>`;
