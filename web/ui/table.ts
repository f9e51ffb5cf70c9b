import { html, nothing, type TemplateResult } from 'lit-html';

/** What stands in a cell. */
export type Cell = string | number | TemplateResult | typeof nothing;

export interface ScrollTableOptions {
  /** Accessible name of the part that scrolls. */
  readonly name: string;
  readonly caption?: string;
  /** An empty one heads a column of buttons or remarks. */
  readonly heads: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
  /** Place of the cell that heads its row (default 0). */
  readonly headAt?: number;
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
  headAt = 0,
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
          (cells) =>
            html`<tr>
              ${cells.map((cell, i) =>
                i === headAt
                  ? html`<th scope="row">${cell}</th>`
                  : html`<td class=${cellClasses[i] ?? nothing}>${cell}</td>`,
              )}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
