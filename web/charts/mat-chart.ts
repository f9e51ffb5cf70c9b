import { chartSvg } from './chart-frame.ts';
import { s } from '../ui/dom.ts';
import { corePath, round, tiltOf } from './core-path.ts';
import { drawGives, givesLook } from './mat-gives.ts';
import { drawMark, drawTried } from './mat-marks.ts';
import { fineCells, tooFine } from './mat-fine.ts';
import { matSpaces, planOf, type MatSpaces, type Plan } from './mat-spaces.ts';

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
  /** Cores by index at which reads were tried: whether all of them were right. */
  readonly tried?: ReadonlyMap<number, boolean>;
  readonly width: number;
  readonly em: number;
}

/** The mat seen from above: cores on their lines, tilt = polarity, filled = ONE, weight = how much each is driven. */
export function matChart(options: MatChartOptions): { node: SVGSVGElement; spaces: MatSpaces } {
  const { name, rows, columns, selected, focus, shares, width, em } = options;
  const spaces = matSpaces(rows, columns, width, em);
  const { pitch, left, top, height } = spaces;
  const plan = planOf(spaces, rows, columns);
  const node = chartSvg(
    { name, width, height, className: options.tried ? 'chart mat mat-tried' : 'chart mat' },
    s('rect', { x: left, y: top, width: columns * pitch, height: rows * pitch, class: 'ground' }),
    drawDriveLines(plan, selected),
    ...(shares ? drawShares(plan, options, shares) : [drawWire(plan, options), ...drawCores(plan, options)]),
    drawBox(plan, selected, 'mat-selected', 0.5),
    drawBox(plan, focus, 'mat-focus', Math.min(3, pitch * 0.12)),
    ...options.marked.map((index) => drawMark(plan, index)),
    ...[...(options.tried ?? [])].map(([index, right]) => drawTried(plan, index, right)),
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
  const onlyChosen = tooFine(pitch);
  for (let row = 0; row < rows; row++)
    if (!onlyChosen || row === selected.row)
      lines.append(line(left, y(row), right, y(row), row === selected.row));
  for (let column = 0; column < columns; column++)
    if (!onlyChosen || column === selected.column)
      lines.append(line(x(column), top, x(column), bottom, column === selected.column));
  return lines;
}

/** One path for all cores that look alike: by what they hold, and whether a line drives them. */
function drawCores(plan: Plan, { bits, polarity, selected }: MatChartOptions): readonly SVGPathElement[] {
  const { rows, columns, pitch, place } = plan;
  const groups = { 'one-rest': '', 'zero-rest': '', 'one-half': '', 'zero-half': '' };
  const keyOf = (index: number): keyof typeof groups => {
    const half = Math.floor(index / columns) === selected.row || index % columns === selected.column;
    return `${bits[index] ? 'one' : 'zero'}-${half ? 'half' : 'rest'}`;
  };
  if (tooFine(plan.pitch)) return fineCells(plan, (index) => `core-cell core-${keyOf(index)}`);
  for (let index = 0; index < rows * columns; index++) {
    const key = keyOf(index);
    groups[key] += corePath(...place(index), pitch * 0.36, tiltOf(polarity, index));
  }
  return Object.entries(groups).flatMap(([key, d]) =>
    d === '' ? [] : [s('path', { d, class: `core core-${key}` })],
  );
}

/** The cores by what each gives. */
function drawShares(
  plan: Plan,
  { order, polarity, selected, driven }: MatChartOptions,
  shares: Float64Array,
): readonly SVGElement[] {
  const { columns, pitch, place } = plan;
  const linesOf = (index: number): number =>
    Number(Math.floor(index / columns) === selected.row) + Number(index % columns === selected.column);
  const rounded = (index: number): readonly [number, number] => {
    const [x, y] = place(index);
    return [round(x), round(y)];
  };
  const faint = (index: number): boolean => driven !== undefined && linesOf(index) !== driven;
  if (tooFine(pitch)) {
    const looks = givesLook(shares, faint);
    return fineCells(plan, (index) => `core-cell ${looks(index)}`);
  }
  return drawGives({
    emf: shares,
    order: order ?? [],
    at: rounded,
    ring: (index, part) => corePath(...rounded(index), pitch * 0.36, tiltOf(polarity, index), part),
    faint,
  });
}

function drawWire({ pitch, place }: Plan, { order }: MatChartOptions): SVGPathElement | undefined {
  if (order === undefined || tooFine(pitch)) return undefined;
  const d = `M${Array.from(order, (index) => place(index).map(round).join(',')).join('L')}`;
  return s('path', { class: 'mat-wire', d });
}

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
