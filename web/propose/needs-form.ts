import { html, nothing, type TemplateResult } from 'lit-html';
import { live } from 'lit-html/directives/live.js';
import { CORE_PRESET_NAMES } from '../../engine/design/core-presets.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { iconView } from '../ui/icon-view.ts';
import { startAndCancel } from '../ui/status.ts';
import { NEEDS_CHECKS, NEEDS_FIELDS, type NeedsField } from './needs-fields.ts';

export interface Refusal {
  readonly message: string;
  /** JSON pointer into the needs; '' when it is about none of its fields. */
  readonly field: string;
}

export interface NeedsFormOptions {
  readonly needs: RawDesign;
  readonly refusal: Refusal | undefined;
  readonly running: boolean;
  readonly onSet: (pointer: string, value: unknown) => void;
  readonly onStart: () => void;
  readonly onCancel: () => void;
  /** Takes the needs from the design on the stage again. */
  readonly onReset: () => void;
  readonly onSave: () => void;
}

const PREFERENCES = [
  ['margin', 'the widest margin'],
  ['current', 'the least current'],
  ['drivers', 'the fewest drivers'],
  ['cycle', 'the shortest cycle'],
] as const;

/** What a memory must do and what there is to make it from. */
export function needsForm(options: NeedsFormOptions): TemplateResult {
  const { needs, refusal, running, onSet, onStart, onCancel, onReset, onSave } = options;
  const shown = NEEDS_FIELDS.flatMap(([, fields]) => fields).map(({ pointer }) => pointer);
  const elsewhere = refusal && !shown.some((pointer) => isAt(refusal, pointer)) ? refusal : undefined;
  return html`<form
    class="needs-form"
    aria-label="Needs"
    novalidate
    @submit=${(event: Event) => {
      event.preventDefault();
      onStart();
    }}
  >
    ${NEEDS_FIELDS.map(
      ([title, fields]) =>
        html`<fieldset>
          <legend>${title}</legend>
          <div class="needs-fields">
            ${title === 'What there is' ? coreField(needs, onSet) : nothing}
            ${fields.map((each) => fieldView(each, needs, refusal, onSet))}
          </div>
        </fieldset>`,
    )}
    <div class="needs-choices">
      ${NEEDS_CHECKS.map(([pointer, label]) => checkView(pointer, label, needs, onSet))}
      ${selectView(
        'needs-prefer',
        'First comes',
        PREFERENCES,
        String(rawAt(needs, '/prefer') ?? 'margin'),
        (value) => onSet('/prefer', value),
      )}
    </div>
    ${elsewhere ? html`<p class="field-error" role="alert">${iconView('error')} ${elsewhere.message}</p>` : nothing}
    <div class="button-row">
      ${startAndCancel({ text: 'Search', running, onCancel })}
      <button type="button" ?disabled=${running} @click=${onReset}>Take from the design</button>
      <button type="button" @click=${onSave}>Save the needs</button>
    </div>
  </form>`;
}

/** Is it about this field, or about something within it? */
const isAt = ({ field }: Refusal, pointer: string): boolean =>
  field === pointer || (field !== '' && pointer.startsWith(`${field}/`) && !field.endsWith('mat'));

const checkView = (
  pointer: string,
  label: string,
  needs: RawDesign,
  onSet: NeedsFormOptions['onSet'],
): TemplateResult =>
  html`<label class="check"
    ><input
      type="checkbox"
      .checked=${live(rawAt(needs, pointer) === true)}
      @change=${(event: Event) => onSet(pointer, (event.target as HTMLInputElement).checked)}
    />${label}</label
  >`;

function fieldView(
  { pointer, label, help, kind }: NeedsField,
  needs: RawDesign,
  refusal: Refusal | undefined,
  onSet: NeedsFormOptions['onSet'],
): TemplateResult {
  const id = `needs${pointer.replaceAll('/', '-')}`;
  const value = rawAt(needs, pointer);
  const refused = refusal && isAt(refusal, pointer) ? refusal.message : undefined;
  return html`<div class="field">
    <label for=${id}>${label}</label>
    <input
      id=${id}
      type="text"
      autocomplete="off"
      spellcheck="false"
      inputmode=${kind === 'number' ? 'numeric' : nothing}
      aria-describedby=${refused ? `${id}-error ${id}-help` : `${id}-help`}
      aria-invalid=${refused ? 'true' : 'false'}
      .value=${live(value === undefined ? '' : String(value))}
      @change=${(event: Event) => onSet(pointer, typed((event.target as HTMLInputElement).value, kind))}
    />
    ${refused ? html`<p class="field-error" id="${id}-error" role="alert">${iconView('error')} ${refused}</p>` : nothing}
    <p class="note small" id="${id}-help">${help}</p>
  </div>`;
}

/** A number where one is due and one was typed; else the text, for the engine to refuse in its own words. */
function typed(text: string, kind: NeedsField['kind']): unknown {
  const trimmed = text.trim();
  if (trimmed === '') return undefined;
  const number = Number(trimmed.replaceAll(',', ''));
  return kind === 'number' && Number.isFinite(number) ? number : trimmed;
}

/** The core of the design, as long as none of the list was chosen for it. */
function coreField(needs: RawDesign, onSet: NeedsFormOptions['onSet']): TemplateResult {
  const core = rawAt(needs, '/cores/0');
  const preset = rawAt(core, '/preset');
  const own = Object.keys((core ?? {}) as object).some((name) => name !== 'preset') || preset === undefined;
  const choices = [
    ...(own ? [['own', 'that of the design'] as const] : []),
    ...CORE_PRESET_NAMES.map((name) => [name, name] as const),
  ];
  return selectView('needs-core', 'Core', choices, own ? 'own' : String(preset), (value) => {
    if (value !== 'own') onSet('/cores/0', { preset: value });
  });
}

const selectView = (
  id: string,
  label: string,
  choices: readonly (readonly [value: string, text: string])[],
  chosen: string,
  onChoose: (value: string) => void,
): TemplateResult =>
  html`<div class="field">
    <label for=${id}>${label}</label>
    <select id=${id} @change=${(event: Event) => onChoose((event.target as HTMLSelectElement).value)}>
      ${choices.map(([value, text]) => html`<option value=${value} .selected=${value === chosen}>${text}</option>`)}
    </select>
  </div>`;
