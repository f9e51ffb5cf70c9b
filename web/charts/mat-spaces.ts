export interface MatSpaces {
  /** px of one core pitch. */
  readonly pitch: number;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Core pitch and margins for a mat drawn `width` px wide, at most 40 px a pitch. */
export function matSpaces(rows: number, columns: number, width: number, em: number): MatSpaces {
  const left = 34 * em;
  const top = 22 * em;
  const pitch = Math.min(40 * em, (width - left - 8) / Math.max(columns, rows * 0.75));
  return { pitch, left, top, width, height: top + pitch * rows + 8 };
}

/** Which core lies under a point, px from the chart's top left; undefined beside the mat. */
export function coreAt(
  spaces: MatSpaces,
  size: { readonly rows: number; readonly columns: number },
  x: number,
  y: number,
): { readonly row: number; readonly column: number } | undefined {
  const column = Math.floor((x - spaces.left) / spaces.pitch);
  const row = Math.floor((y - spaces.top) / spaces.pitch);
  const inside = row >= 0 && row < size.rows && column >= 0 && column < size.columns;
  return inside ? { row, column } : undefined;
}

/** Where the cores of a mat lie on its chart. */
export interface Plan extends MatSpaces {
  readonly rows: number;
  readonly columns: number;
  /** px, the middle of a column or a row. */
  readonly x: (column: number) => number;
  readonly y: (row: number) => number;
  /** px, the middle of a core by its index. */
  readonly place: (index: number) => readonly [x: number, y: number];
}

export function planOf(spaces: MatSpaces, rows: number, columns: number): Plan {
  const x = (column: number) => spaces.left + (column + 0.5) * spaces.pitch;
  const y = (row: number) => spaces.top + (row + 0.5) * spaces.pitch;
  const place = (index: number) => [x(index % columns), y(Math.floor(index / columns))] as const;
  return { ...spaces, rows, columns, x, y, place };
}
