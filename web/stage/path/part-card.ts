import { html, nothing, type TemplateResult } from 'lit-html';
import { live } from 'lit-html/directives/live.js';
import { writeQuantity } from '../../../engine/base/format-quantity.ts';
import type { Design } from '../../../engine/design/design.ts';
import { PATH_TITLES } from '../../model/path-facts.ts';
import { rawAt, withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Page, Region } from '../../state/page.ts';
import { iconView } from '../../ui/icon-view.ts';
import { PART_FIELDS, type PartField } from './part-fields.ts';

/** The inputs of one part of the signal path, beside the trace that they change. */
export const partCard: Region = (page) => {
  const { atoms, now, act } = page;
  return () => {
    const part = atoms.open.value;
    if (!part) return nothing;
    const close = (): void => {
      act.openPart(undefined);
      document.querySelector<HTMLElement>(`[data-part=${part}]`)?.focus();
    };
    return html`
      <div @keydown=${(event: KeyboardEvent) => event.key === 'Escape' && close()}>
        <div class="card-head">
          <h2>${PATH_TITLES[part]}</h2>
          <button type="button" @click=${close}>Close</button>
        </div>
        <div class="part-fields">
          ${PART_FIELDS[part].map((field) => fieldView(page, field, now.inForce.value))}
        </div>
        <p class="button-row">
          <button type="button" @click=${() => act.go({ name: 'plan', part: 'inputs' })}>
            More: all inputs
          </button>
        </p>
      </div>
    `;
  };
};

function fieldView({ now, act }: Page, field: PartField, design: Design | undefined): TemplateResult {
  const raw = now.raw.value;
  const pointer = field.pointers[0]!;
  const id = `part${pointer.replaceAll('/', '-')}`;
  const typed = rawAt(raw, pointer);
  const text = typed === undefined ? startText(design, pointer) : String(typed);
  const fault = now.faults.value.find((each) => field.pointers.includes(each.field));
  const written = [...field.pointers, ...(field.also ?? [])];
  const warning = now.run.value?.warnings.find((each) => written.includes(each.field));
  const commit = (event: Event): void => {
    const { value } = event.currentTarget as HTMLInputElement | HTMLSelectElement;
    act.change((before) => writeField(before, field, value.trim()));
  };
  const options = field.options;
  return html`
    <div class="field">
      <label for=${id}>${field.label}</label>
      ${
        options
          ? html`<select id=${id} @change=${commit}>
              ${[
                ...options,
                ...(options.some(([value]) => value === text) ? [] : [[text, text] as const]),
              ].map(
                ([value, words]) =>
                  html`<option value=${value} ?selected=${value === text}>${words}</option>`,
              )}
            </select>`
          : html`<input
              id=${id}
              type="text"
              autocomplete="off"
              spellcheck="false"
              .value=${live(text)}
              aria-invalid=${fault ? 'true' : 'false'}
              aria-describedby="${id}-error"
              @change=${commit}
            />`
      }
      <p class=${fault ? 'field-error' : 'field-warning'} id="${id}-error" ?hidden=${!fault && !warning}>
        ${
          fault
            ? html`${iconView('error')}${fault.message}`
            : warning
              ? html`${iconView('warning')}${warning.message} ${warning.remedy}`
              : nothing
        }
      </p>
    </div>
  `;
}

/** Text keeps its unit as typed; a plain number is one. */
function writeField(raw: RawDesign, field: PartField, text: string): RawDesign {
  const value = /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text === '' ? undefined : text;
  const stated = (field.also ?? []).filter((pointer) => rawAt(raw, pointer) !== undefined);
  return [...field.pointers, ...stated].reduce((next, pointer) => withValueAt(next, pointer, value), raw);
}

const UNITS: readonly (readonly [RegExp, 's' | 'A' | 'V' | 'Hz' | 'ohm'])[] = [
  [/\/drive\/.*Amplitude$/, 'A'],
  [/^\/(drive|cycle|strobe)\//, 's'],
  [/\/detector\/delay$/, 's'],
  [/^\/detector\//, 'V'],
  [/\/amplifier\/bandwidth$/, 'Hz'],
  [/^\/terminations\/|resistance/, 'ohm'],
];

/** What holds where the design as typed says nothing. */
function startText(design: Design | undefined, pointer: string): string {
  const value = rawAt(design, pointer);
  if (pointer === '/strobe/time' && value === undefined) return 'best';
  if (typeof value !== 'number') return value === undefined ? '' : String(value);
  if (pointer === '/temperature') return `${value} °C`;
  const unit = UNITS.find(([pattern]) => pattern.test(pointer))?.[1];
  return unit ? writeQuantity(value, unit) : String(value);
}
