import { html, nothing, type TemplateResult } from 'lit-html';
import { live } from 'lit-html/directives/live.js';

interface FieldOptions<T> {
  /** Unique on the page. */
  readonly id: string;
  readonly label: string;
  readonly value: T;
  readonly onSet: (value: T) => void;
}

/** One line of text, taken when it is left. */
export const textField = ({
  id,
  label,
  value,
  onSet,
  size,
}: FieldOptions<string> & { readonly size?: number }): TemplateResult =>
  html`<div class="field ${size === undefined ? '' : 'narrow-field'}">
    <label for=${id}>${label}</label>
    <input
      id=${id}
      type="text"
      autocomplete="off"
      size=${size ?? nothing}
      .value=${live(value)}
      @change=${(event: Event) => onSet((event.target as HTMLInputElement).value)}
    />
  </div>`;

/** Some lines of text. */
export const areaField = ({
  id,
  label,
  value,
  onSet,
  rows = 2,
}: FieldOptions<string> & { readonly rows?: number }): TemplateResult =>
  html`<div class="field">
    <label for=${id}>${label}</label>
    <textarea
      id=${id}
      rows=${rows}
      .value=${live(value)}
      @change=${(event: Event) => onSet((event.target as HTMLTextAreaElement).value)}
    ></textarea>
  </div>`;

export const selectField = <T extends string>({
  id,
  label,
  value,
  options,
  onSet,
}: FieldOptions<T> & { readonly options: readonly (readonly [T, string])[] }): TemplateResult =>
  html`<div class="field">
    <label for=${id}>${label}</label>
    <select id=${id} @change=${(event: Event) => onSet((event.target as HTMLSelectElement).value as T)}>
      ${options.map(
        ([option, text]) => html`<option value=${option} .selected=${option === value}>${text}</option>`,
      )}
    </select>
  </div>`;

/** Some of a few. */
export const someOf = <T extends string>({
  label,
  value,
  options,
  onSet,
}: Omit<FieldOptions<readonly T[]>, 'id'> & {
  readonly options: readonly (readonly [T, string])[];
}): TemplateResult =>
  html`<fieldset class="some-of">
    <legend>${label}</legend>
    ${options.map(
      ([option, text]) =>
        html`<label
          ><input
            type="checkbox"
            .checked=${live(value.includes(option))}
            @change=${(event: Event) => {
              const on = (event.target as HTMLInputElement).checked;
              const chosen = options.map(([each]) => each);
              onSet(chosen.filter((each) => (each === option ? on : value.includes(each))));
            }}
          />${text}</label
        >`,
    )}
  </fieldset>`;

/** "330 mA, 370 mA" as a list; empty parts are left out. */
export const listOf = (text: string): readonly string[] =>
  text
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
