import { s } from '../ui/dom.ts';
import { drawGives } from './mat-gives.ts';

/** What the mat chart needs to know, all row-major, core index = row * columns + column. */
export interface MatChartOptions {
  readonly name: string;
  readonly rows: number;
  readonly columns: number;
  readonly bits: ArrayLike<number>;
  /** s_z, +1 or -1: drawn as the tilt of the core. */
  readonly polarity: ArrayLike<number>;
  /** Core indices in the order of the wire from end A; drawn as a path when given. */
  readonly order?: ArrayLike<number>;
  readonly selected: { readonly row: number; readonly column: number };
  /** Core under the reader's attention. */
  readonly focus: { readonly row: number; readonly column: number };
  /** Cores that are not like the others, by index. */
  readonly marked: readonly number[];
  /** V, what each core gives: drawn as the weight of its ring, broken where it takes away. */
  readonly shares?: Float64Array;
  readonly width: number;
  readonly em: number;
}

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

/** The mat seen from above: cores on their lines, tilt = polarity, filled = ONE, weight = how much each is driven. */
export function matChart(options: MatChartOptions): { node: SVGSVGElement; spaces: MatSpaces } {
  const { rows, columns, selected, focus, width, em } = options;
  const spaces = matSpaces(rows, columns, width, em);
  const { pitch, left, top, height } = spaces;
  const x = (column: number) => left + (column + 0.5) * pitch;
  const y = (row: number) => top + (row + 0.5) * pitch;
  const right = left + columns * pitch;
  const bottom = top + rows * pitch;

  const groups = { 'one-rest': '', 'zero-rest': '', 'one-half': '', 'zero-half': '' };
  for (let index = 0; index < rows * columns; index++) {
    const row = Math.floor(index / columns);
    const column = index % columns;
    const half = row === selected.row || column === selected.column;
    const key = `${options.bits[index] ? 'one' : 'zero'}-${half ? 'half' : 'rest'}` as const;
    groups[key] += corePath(x(column), y(row), pitch * 0.36, (options.polarity[index] ?? 1) > 0 ? 1 : -1);
  }
  const line = (x1: number, y1: number, x2: number, y2: number, name: string) =>
    s('line', { x1, y1, x2, y2, class: name });
  const lines = s('g', { class: 'mat-lines' });
  for (let row = 0; row < rows; row++)
    lines.append(line(left, y(row), right, y(row), row === selected.row ? 'mat-line chosen' : 'mat-line'));
  for (let column = 0; column < columns; column++)
    lines.append(
      line(x(column), top, x(column), bottom, column === selected.column ? 'mat-line chosen' : 'mat-line'),
    );

  const place = (index: number) =>
    [round(x(index % columns)), round(y(Math.floor(index / columns)))] as const;
  const ringOf = (index: number, part: 'whole' | 'near'): string => {
    const tilt = (options.polarity[index] ?? 1) > 0 ? 1 : -1;
    return corePath(...place(index), pitch * 0.36, tilt, part);
  };
  const wire =
    options.order && !options.shares
      ? s('path', {
          class: 'mat-wire',
          d: `M${Array.from(options.order, (index) => `${round(x(index % columns))},${round(y(Math.floor(index / columns)))}`).join('L')}`,
        })
      : undefined;
  const box = (place: { row: number; column: number }, name: string, inset: number) =>
    s('rect', {
      x: left + place.column * pitch + inset,
      y: top + place.row * pitch + inset,
      width: pitch - 2 * inset,
      height: pitch - 2 * inset,
      class: name,
    });
  const marks = options.marked.map((index) =>
    s('path', {
      class: 'mat-mark',
      d: crossPath(
        x(index % columns) + pitch * 0.3,
        y(Math.floor(index / columns)) - pitch * 0.3,
        Math.max(2.5, pitch * 0.12),
      ),
    }),
  );
  const node = s(
    'svg',
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      'aria-label': options.name,
      class: 'chart mat',
    },
    s('rect', { x: left, y: top, width: right - left, height: bottom - top, class: 'ground' }),
    lines,
    wire,
    ...(options.shares
      ? drawGives(options.shares, options.order ?? [], place, (index, part) => ringOf(index, part))
      : []),
    ...(options.shares ? [] : Object.entries(groups)).map(([key, d]) =>
      d === '' ? undefined : s('path', { d, class: `core core-${key}` }),
    ),
    box(selected, 'mat-selected', 0.5),
    box(focus, 'mat-focus', Math.min(3, pitch * 0.12)),
    ...marks,
    s(
      'text',
      { x: x(selected.column), y: top - 7 * em, class: 'tick-text', 'text-anchor': 'middle' },
      `Y ${selected.column}`,
    ),
    s(
      'text',
      { x: left - 5, y: y(selected.row), dy: '0.32em', class: 'tick-text', 'text-anchor': 'end' },
      `X ${selected.row}`,
    ),
  );
  return { node, spaces };
}

const round = (value: number): number => Math.round(value * 10) / 10;

/** A ring seen nearly on edge, tilted 45° to the one or the other side. */
function corePath(cx: number, cy: number, r: number, tilt: 1 | -1, part: 'whole' | 'near' = 'whole'): string {
  const dx = round(r * Math.SQRT1_2);
  const dy = round(r * Math.SQRT1_2 * -tilt);
  const half = (sx: number, sy: number) => `a${round(r)},${round(r * 0.42)} ${-45 * tilt} 0 1 ${sx},${sy}`;
  const near = `M${round(cx - dx)},${round(cy - dy)}${half(2 * dx, 2 * dy)}`;
  return part === 'near' ? near : `${near}${half(-2 * dx, -2 * dy)}Z`;
}

const crossPath = (x: number, y: number, r: number): string =>
  `M${x - r},${y - r}L${x + r},${y + r}M${x + r},${y - r}L${x - r},${y + r}`;
