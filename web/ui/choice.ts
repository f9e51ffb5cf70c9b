import { html, type TemplateResult } from 'lit-html';

export interface ChoiceOptions<T extends string> {
  /** Accessible name of the group. */
  readonly title: string;
  readonly options: readonly (readonly [value: T, text: string])[];
  readonly chosen: T;
  readonly onChoose: (value: T) => void;
}

/** One of a few, as buttons in a row. */
export const choice = <T extends string>({
  title,
  options,
  chosen,
  onChoose,
}: ChoiceOptions<T>): TemplateResult =>
  html`<div class="choice" role="group" aria-label=${title}>
    ${options.map(
      ([value, text]) =>
        html`<button
          type="button"
          aria-pressed=${value === chosen ? 'true' : 'false'}
          @click=${() => onChoose(value)}
        >
          ${text}
        </button>`,
    )}
  </div>`;

/** One of a few, as radio buttons; its title is unique on the page. */
export const radioChoice = <T extends string>({
  title,
  options,
  chosen,
  onChoose,
}: ChoiceOptions<T>): TemplateResult =>
  html`<fieldset class="choices">
    <legend>${title}</legend>
    ${options.map(
      ([value, text]) =>
        html`<label
          ><input
            type="radio"
            name=${title}
            value=${value}
            .checked=${value === chosen}
            @change=${() => onChoose(value)}
          />${text}</label
        >`,
    )}
  </fieldset>`;
