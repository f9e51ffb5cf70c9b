import { html, nothing, type TemplateResult } from 'lit-html';
import { differingInputs, pointerWords, rawAt, type RawDesign } from '../model/pointer.ts';

/** Only the inputs in which the designs differ. */
export function inputTable(
  shown: readonly { readonly name: string; readonly raw: RawDesign }[],
): TemplateResult | typeof nothing {
  const inputs = differingInputs(shown.map(({ raw }) => raw));
  if (shown.length < 2) return nothing;
  if (inputs.length === 0) return html`<p class="note">All inputs are the same.</p>`;
  return html`<div class="table-scroll" tabindex="0" role="region" aria-label="Inputs that differ">
    <table>
      <caption class="visually-hidden">
        Inputs in which the designs differ
      </caption>
      <thead>
        <tr>
          <th scope="col">input</th>
          ${shown.map(({ name }) => html`<th scope="col">${name}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${inputs.map(
          (pointer) =>
            html`<tr>
              <th scope="row">${pointerWords(pointer)}</th>
              ${shown.map(({ raw }) => html`<td>${shownValue(rawAt(raw, pointer))}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function shownValue(value: unknown): string {
  if (value === undefined) return 'default';
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}
