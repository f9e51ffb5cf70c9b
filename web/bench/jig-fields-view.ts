import { html, nothing, type TemplateResult } from 'lit-html';
import { fieldError, type FieldRefusal } from '../ui/field.ts';
import type { JigField } from './jig-field.ts';

export interface JigFieldsOptions {
  readonly fields: readonly JigField[];
  readonly name: string;
  /** As typed, by the field's name. */
  readonly values: Readonly<Record<string, string>>;
  readonly refusal: FieldRefusal | undefined;
  /** The fields that few need are shown. */
  readonly further: boolean;
  readonly onName: (text: string) => void;
  readonly onType: (field: string, text: string) => void;
  readonly onFurther: (open: boolean) => void;
}

export const jigFieldsView = (options: JigFieldsOptions): TemplateResult => {
  const { fields, name, further, onName, onFurther } = options;
  const some = (more: boolean): TemplateResult[] =>
    fields.filter((field) => (field.more ?? false) === more).map((field) => fieldView(field, options));
  return html`<div class="bench-body">
    <div class="bench-fields">
      <div class="field">
        <label for="jig-name">Name of the core</label>
        <input
          id="jig-name"
          type="text"
          maxlength="80"
          autocomplete="off"
          .value=${name}
          @input=${(event: Event) => onName((event.currentTarget as HTMLInputElement).value)}
        />
      </div>
      ${some(false)}
    </div>
    <details
      .open=${further}
      @toggle=${(event: Event) => onFurther((event.currentTarget as HTMLDetailsElement).open)}
    >
      <summary>More that was measured</summary>
      <div class="bench-fields">${some(true)}</div>
    </details>
  </div>`;
};

function fieldView({ name, label, example }: JigField, options: JigFieldsOptions): TemplateResult {
  const { values, refusal, onType } = options;
  const message = refusal?.field === name ? refusal.message : undefined;
  const id = `jig-${name}`;
  return html`<div class="field">
    <label for=${id}>${label}</label>
    <input
      id=${id}
      type="text"
      autocomplete="off"
      spellcheck="false"
      placeholder=${example}
      aria-invalid=${message === undefined ? nothing : 'true'}
      aria-describedby=${message === undefined ? nothing : `${id}-error`}
      .value=${values[name] ?? ''}
      @input=${(event: Event) => onType(name, (event.currentTarget as HTMLInputElement).value)}
    />
    ${fieldError(`${id}-error`, message)}
  </div>`;
}
