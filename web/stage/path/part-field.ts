import { html, nothing, type TemplateResult } from 'lit-html';
import { ref } from 'lit-html/directives/ref.js';
import { formatQuantity, writeQuantity } from '../../../engine/base/format-quantity.ts';
import type { Unit } from '../../../engine/base/units.ts';
import type { Design } from '../../../engine/design/design.ts';
import { rawAt, withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Page } from '../../state/page.ts';
import { iconView } from '../../ui/icon-view.ts';
import { showValue } from '../../ui/typing.ts';
import { bandOf, bandWords, isOfWindow } from './part-bands.ts';
import type { PartField } from './part-fields.ts';
import type { SoughtBands, Wanted } from './seek-bands.ts';
import { sliderScale } from './slider-scale.ts';
import { sliderView } from './slider.ts';

/** The design as it was when the card was opened, and where its strobe stood, s. */
interface Opened {
  readonly design: Design | undefined;
  readonly strobe: number | undefined;
}

/** An input of an open card. */
export function fieldView(page: Page, field: PartField, opened: Opened, sought: SoughtBands): TemplateResult {
  const { now, act } = page;
  const design = now.inForce.value;
  const pointer = field.pointers[0]!;
  const id = `part${pointer.replaceAll('/', '-')}`;
  const typed = rawAt(now.raw.value, pointer);
  const text = typed === undefined ? startText(design, pointer, field.unit) : String(typed);
  const fault = now.faults.value.find((each) => field.pointers.includes(each.field));
  const written = [...field.pointers, ...(field.also ?? [])];
  const warning = now.run.value?.warnings.find((each) => written.includes(each.field));
  const commit = (event: Event): void => {
    const { value } = event.currentTarget as HTMLInputElement | HTMLSelectElement;
    act.change((before) => writeField(before, field, value.trim()));
  };
  const input = html`<input
    id=${id}
    type="text"
    autocomplete="off"
    spellcheck="false"
    ${ref((control) => control && showValue(control as HTMLInputElement, text))}
    aria-invalid=${fault ? 'true' : 'false'}
    aria-describedby="${id}-error"
    @change=${commit}
  />`;
  return html`
    <div class="field ${field.reach ? 'field-slider' : ''}">
      <label for=${id}>${field.label}</label>
      ${field.options ? chooser(id, field.options, text, commit) : input}
      ${field.reach ? fieldSlider(page, field, opened, sought) : nothing}
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

const chooser = (
  id: string,
  options: NonNullable<PartField['options']>,
  text: string,
  commit: (event: Event) => void,
): TemplateResult => {
  const shown = options.some(([value]) => value === text) ? options : [...options, [text, text] as const];
  return html`<select id=${id} @change=${commit}>
    ${shown.map(
      ([value, words]) => html`<option value=${value} ?selected=${value === text}>${words}</option>`,
    )}
  </select>`;
};

let drags = 0;
/** The drag under way, or the held key: one step of undo. */
let gesture: string | undefined;

/** Where a field's slider stands and how far it goes; undefined: there is nothing to go to half or to twice of. */
function placeOf({ now }: Page, field: PartField, opened: Opened) {
  const pointer = field.pointers[0]!;
  const of = (design: Design | undefined, strobe: number | undefined): number | undefined => {
    const value = pointer === '/strobe/time' ? (design?.strobe.time ?? strobe) : rawAt(design, pointer);
    return typeof value === 'number' && Number.isFinite(value) ? value : undefined;
  };
  const value = of(now.inForce.value, now.strobe.value?.time);
  const start = of(opened.design, opened.strobe) ?? value;
  if (value === undefined || start === undefined || (field.reach!.kind === 'ratio' && !(start > 0)))
    return undefined;
  return { value, start, scale: sliderScale(field.reach!, start) };
}

/** The sliders of a card whose bands take runs to find. */
export const wantedBands = (page: Page, fields: readonly PartField[], opened: Opened): readonly Wanted[] =>
  fields.flatMap((field) => {
    if (!field.reach || isOfWindow(field.pointers[0]!)) return [];
    const place = placeOf(page, field, opened);
    return place ? [{ field, ...place }] : [];
  });

function fieldSlider(
  page: Page,
  field: PartField,
  opened: Opened,
  sought: SoughtBands,
): TemplateResult | typeof nothing {
  const { now, act } = page;
  const pointer = field.pointers[0]!;
  const unit = field.unit!;
  const place = placeOf(page, field, opened);
  if (!place) return nothing;
  const ofWindow = isOfWindow(pointer);
  const strobe = now.judgedIsOld.value ? undefined : now.strobe.value;
  const found = ofWindow ? bandOf(pointer, strobe) : sought.of({ field, ...place });
  const band = found === 'failed' ? undefined : found;
  return sliderView({
    label: field.label,
    scale: place.scale,
    value: place.value,
    opened: place.start,
    text: (each) => formatQuantity(each, unit, 3),
    band,
    words: band
      ? bandWords(band, unit, ofWindow ? 4 : 3)
      : found
        ? 'its band could not be computed'
        : 'its band is being computed',
    onMove: (next) => {
      gesture ??= `slider-${++drags}`;
      act.change((before) => writeField(before, field, writeQuantity(next, unit)), gesture);
    },
    onEnd: () => {
      gesture = undefined;
      act.endGesture();
    },
  });
}

/** Text keeps its unit as typed; a plain number is one. */
function writeField(raw: RawDesign, field: PartField, text: string): RawDesign {
  const value = /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text === '' ? undefined : text;
  const stated = (field.also ?? []).filter((pointer) => rawAt(raw, pointer) !== undefined);
  return [...field.pointers, ...stated].reduce((next, pointer) => withValueAt(next, pointer, value), raw);
}

/** What holds where the design as typed says nothing. */
function startText(design: Design | undefined, pointer: string, unit: Unit | undefined): string {
  const value = rawAt(design, pointer);
  if (pointer === '/strobe/time' && value === undefined) return 'best';
  if (typeof value !== 'number') return value === undefined ? '' : String(value);
  if (unit === '°C') return `${value} °C`;
  return unit ? writeQuantity(value, unit) : String(value);
}
