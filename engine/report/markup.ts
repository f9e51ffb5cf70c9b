/** Text made safe between tags and in quoted attributes. */
export function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
}

/** A table with a header row (none when all its names are empty); cells are text, the first column names the row. */
export function table(
  header: readonly string[],
  rows: readonly (readonly string[])[],
  className = '',
): string {
  const head = header.map((text) => `<th scope="col">${escapeText(text)}</th>`).join('');
  const body = rows
    .map((row) => {
      const [first, ...rest] = row.map(escapeText);
      return `<tr><th scope="row">${first}</th>${rest.map((cell) => `<td>${cell}</td>`).join('')}</tr>`;
    })
    .join('');
  const names = header.some((text) => text !== '') ? `<thead><tr>${head}</tr></thead>` : '';
  const opening = className === '' ? '<table>' : `<table class="${className}">`;
  return `${opening}${names}<tbody>${body}</tbody></table>`;
}

/** A section that a page break does not part from its heading. */
export const section = (title: string, ...parts: readonly string[]): string =>
  `<section><h2>${escapeText(title)}</h2>${parts.join('')}</section>`;

export const paragraph = (text: string): string => `<p>${escapeText(keepUnits(text))}</p>`;

/** No line ends between a number and its unit. */
export const keepUnits = (text: string): string =>
  text.replace(/(?<=\d) (?=%|°C|[fpnµmkM]?(?:V|A|s|Ω|Hz)\b)/gu, '\u00a0');

export const figure = (svg: string, caption: string): string =>
  `<figure>${svg}<figcaption>${escapeText(caption)}</figcaption></figure>`;
