import { chartSvg } from './chart-frame.ts';
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
  /** The cores that stand out by how many of the two lines through them are driven; the rings of all others step back. */
  readonly driven?: 1 | 2;
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

/** Where the cores of a mat lie on its chart. */
interface Plan extends MatSpaces {
  readonly rows: number;
  readonly columns: number;
  /** px, the middle of a column or a row. */
  readonly x: (column: number) => number;
  readonly y: (row: number) => number;
  /** px, the middle of a core by its index. */
  readonly place: (index: number) => readonly [x: number, y: number];
}

function planOf(spaces: MatSpaces, rows: number, columns: number): Plan {
  const x = (column: number) => spaces.left + (column + 0.5) * spaces.pitch;
  const y = (row: number) => spaces.top + (row + 0.5) * spaces.pitch;
  const place = (index: number) => [x(index % columns), y(Math.floor(index / columns))] as const;
  return { ...spaces, rows, columns, x, y, place };
}

/** The mat seen from above: cores on their lines, tilt = polarity, filled = ONE, weight = how much each is driven. */
export function matChart(options: MatChartOptions): { node: SVGSVGElement; spaces: MatSpaces } {
  const { name, rows, columns, selected, focus, shares, width, em } = options;
  const spaces = matSpaces(rows, columns, width, em);
  const { pitch, left, top, height } = spaces;
  const plan = planOf(spaces, rows, columns);
  const node = chartSvg(
    { name, width, height, className: 'chart mat' },
    s('rect', { x: left, y: top, width: columns * pitch, height: rows * pitch, class: 'ground' }),
    drawDriveLines(plan, selected),
    ...(shares ? drawShares(plan, options, shares) : [drawWire(plan, options), ...drawCores(plan, options)]),
    drawBox(plan, selected, 'mat-selected', 0.5),
    drawBox(plan, focus, 'mat-focus', Math.min(3, pitch * 0.12)),
    ...options.marked.map((index) => drawMark(plan, index)),
    s(
      'text',
      { x: plan.x(selected.column), y: top - 7 * em, class: 'tick-text', 'text-anchor': 'middle' },
      `Y ${selected.column}`,
    ),
    s(
      'text',
      { x: left - 5, y: plan.y(selected.row), dy: '0.32em', class: 'tick-text', 'text-anchor': 'end' },
      `X ${selected.row}`,
    ),
  );
  return { node, spaces };
}

function drawDriveLines(
  { rows, columns, pitch, left, top, x, y }: Plan,
  selected: MatChartOptions['selected'],
): SVGGElement {
  const [right, bottom] = [left + columns * pitch, top + rows * pitch];
  const line = (x1: number, y1: number, x2: number, y2: number, chosen: boolean) =>
    s('line', { x1, y1, x2, y2, class: chosen ? 'mat-line chosen' : 'mat-line' });
  const lines = s('g', { class: 'mat-lines' });
  for (let row = 0; row < rows; row++) lines.append(line(left, y(row), right, y(row), row === selected.row));
  for (let column = 0; column < columns; column++)
    lines.append(line(x(column), top, x(column), bottom, column === selected.column));
  return lines;
}

/** One path for all cores that look alike: by what they hold, and whether a line drives them. */
function drawCores(
  { rows, columns, pitch, place }: Plan,
  { bits, polarity, selected }: MatChartOptions,
): SVGPathElement[] {
  const groups = { 'one-rest': '', 'zero-rest': '', 'one-half': '', 'zero-half': '' };
  for (let index = 0; index < rows * columns; index++) {
    const half = Math.floor(index / columns) === selected.row || index % columns === selected.column;
    const key = `${bits[index] ? 'one' : 'zero'}-${half ? 'half' : 'rest'}` as const;
    groups[key] += corePath(...place(index), pitch * 0.36, tiltOf(polarity, index));
  }
  return Object.entries(groups).flatMap(([key, d]) =>
    d === '' ? [] : [s('path', { d, class: `core core-${key}` })],
  );
}

/** The cores by what each gives. */
function drawShares(
  { columns, pitch, place }: Plan,
  { order, polarity, selected, driven }: MatChartOptions,
  shares: Float64Array,
): readonly SVGElement[] {
  const linesOf = (index: number): number =>
    Number(Math.floor(index / columns) === selected.row) + Number(index % columns === selected.column);
  const rounded = (index: number): readonly [number, number] => {
    const [x, y] = place(index);
    return [round(x), round(y)];
  };
  return drawGives({
    emf: shares,
    order: order ?? [],
    at: rounded,
    ring: (index, part) => corePath(...rounded(index), pitch * 0.36, tiltOf(polarity, index), part),
    faint: (index) => driven !== undefined && linesOf(index) !== driven,
  });
}

const drawWire = ({ place }: Plan, { order }: MatChartOptions): SVGPathElement | undefined =>
  order &&
  s('path', {
    class: 'mat-wire',
    d: `M${Array.from(order, (index) => place(index).map(round).join(',')).join('L')}`,
  });

const drawBox = (
  { pitch, left, top }: Plan,
  at: { readonly row: number; readonly column: number },
  name: string,
  inset: number,
): SVGRectElement =>
  s('rect', {
    x: left + at.column * pitch + inset,
    y: top + at.row * pitch + inset,
    width: pitch - 2 * inset,
    height: pitch - 2 * inset,
    class: name,
  });

function drawMark({ pitch, place }: Plan, index: number): SVGPathElement {
  const [x, y] = place(index);
  const d = crossPath(x + pitch * 0.3, y - pitch * 0.3, Math.max(2.5, pitch * 0.12));
  return s('path', { class: 'mat-mark', d });
}

const tiltOf = (polarity: ArrayLike<number>, index: number): 1 | -1 => ((polarity[index] ?? 1) > 0 ? 1 : -1);

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
