import { html, nothing, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { Design } from '../../engine/design/design.ts';
import { MOST_UNKNOWNS } from '../../engine/fitting/refuse-fit.ts';
import { UNKNOWNS, type UnknownName } from '../../engine/fitting/unknown-table.ts';
import { rangeOf } from '../../engine/fitting/unknowns.ts';
import { fieldError } from '../ui/field.ts';
import { unknownWords } from './bench-words.ts';
import { NAMES, rangeId, type RangePart, type Unknowns } from './unknowns.ts';

const GROUPS: readonly (readonly [title: string, starts: readonly string[]])[] = [
  ['Core', ['core']],
  ['Coupling', ['mutual', 'coupling']],
  ['Sense wire and its ends', ['wire', 'termination']],
  ['Amplifier', ['amplifier']],
  ['Drive', ['drive', 'inhibit']],
];

const PARTS: readonly (readonly [RangePart, heading: string, title: string])[] = [
  ['start', 'starts from', 'Start'],
  ['low', 'not below', 'Lower bound'],
  ['high', 'not above', 'Upper bound'],
];

/** Everything that a fit may find out; start and bounds of each may be typed, else they follow the design. */
export const unknownsView = (unknowns: Unknowns, design: Design | undefined): TemplateResult =>
  html`<div class="table-scroll bench-unknowns" tabindex="0" role="region" aria-label="Unknowns to find">
    <table>
      <caption>
        Unknowns to find, at most ${MOST_UNKNOWNS}: of the core, and further down of the coupling, the sense
        wire, the amplifier and the drive. Start and bounds follow the design unless typed.
      </caption>
      <thead>
        <tr>
          ${['Unknown', ...PARTS.map(([, heading]) => heading)].map(
            (text) => html`<th scope="col">${text}</th>`,
          )}
        </tr>
      </thead>
      ${GROUPS.map(
        ([title, starts]) =>
          html`<tbody>
            <tr>
              <th scope="rowgroup" colspan="4" class="bench-group">${title}</th>
            </tr>
            ${NAMES.filter((name) => starts.some((start) => name.startsWith(start))).map((name) =>
              unknownRow(name, unknowns, design),
            )}
          </tbody>`,
      )}
    </table>
  </div>`;

function unknownRow(name: UnknownName, unknowns: Unknowns, design: Design | undefined): TemplateResult {
  const id = `bench-unknown-${name}`;
  const range = design && rangeOf(design, name);
  const { unit, meaning } = UNKNOWNS[name];
  const refusal = unknowns.refusal.value?.name === name ? unknowns.refusal.value : undefined;
  const chosen = unknowns.chosen.value.includes(name);
  const part = ([place, , title]: (typeof PARTS)[number]): TemplateResult =>
    html`<input
      type="text"
      id=${rangeId(name, place)}
      autocomplete="off"
      spellcheck="false"
      aria-label="${title} of ${unknownWords(name)}"
      aria-describedby="${id}-error"
      aria-invalid=${refusal?.part === place ? 'true' : nothing}
      placeholder=${range ? formatQuantity(range[place], unit as Unit, 4) : 'none'}
      ?disabled=${!chosen}
      @input=${(event: Event) => unknowns.type(name, place, (event.currentTarget as HTMLInputElement).value)}
    />`;
  return html`<tr>
    <th scope="row">
      <label for=${id} class="check"
        ><input
          type="checkbox"
          id=${id}
          .checked=${chosen}
          ?disabled=${!range}
          @change=${(event: Event) => unknowns.tick(name, (event.currentTarget as HTMLInputElement).checked)}
        /><span>${unknownWords(name)}<br /><span class="note">${meaning}</span></span></label
      >
      ${fieldError(`${id}-error`, refusal?.message)}
    </th>
    ${PARTS.map((each) => html`<td>${part(each)}</td>`)}
  </tr>`;
}
