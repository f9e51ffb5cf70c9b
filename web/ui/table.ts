import { html, nothing, type TemplateResult } from 'lit-html';

type Cell = string | number | TemplateResult | TemplateResult[] | SVGSVGElement | typeof nothing;

export interface ScrollTableOptions {
  /** Accessible name of the part that scrolls. */
  readonly name: string;
  readonly caption?: string;
  /** An empty one heads a column of buttons or remarks. */
  readonly heads: readonly string[];
  /** The first cell of a row is its head. */
  readonly rows: readonly (readonly Cell[])[];
  readonly className?: string;
  /** Class of the cells of a column, by its place. */
  readonly cellClasses?: Readonly<Record<number, string>>;
}

/** A table that scrolls by itself where the page is narrower. */
export const scrollTable = ({
  name,
  caption,
  heads,
  rows,
  className,
  cellClasses = {},
}: ScrollTableOptions): TemplateResult =>
  html`<div class="table-scroll" tabindex="0" role="region" aria-label=${name}>
    <table class=${className ?? nothing}>
      ${
        caption === undefined
          ? nothing
          : html`<caption>
              ${caption}
            </caption>`
      }
      <thead>
        <tr>
          ${heads.map((text) => (text === '' ? html`<td></td>` : html`<th scope="col">${text}</th>`))}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          ([first, ...rest]) =>
            html`<tr>
              <th scope="row">${first}</th>
              ${rest.map((cell, i) => html`<td class=${cellClasses[i + 1] ?? nothing}>${cell}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
