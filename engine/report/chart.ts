import { escapeText } from './markup.ts';

/** A value axis in the unit that is printed: domain in that unit. */
export interface Axis {
  /** Quantity (set italic) and unit (upright), e.g. t and ns. */
  readonly quantity: string;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
}

export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly x: Axis;
  /** Either a value axis, or rows one above the other with a name beside each. */
  readonly y: Axis | (Pick<Axis, 'low' | 'high'> & { readonly rows: readonly RowName[] });
  /** Names the clip path: must differ between the charts of a page. */
  readonly id: string;
  /** One sentence for readers who cannot see it. */
  readonly summary: string;
}

interface RowName {
  readonly name: string;
  readonly at: number;
  readonly colour: string;
}

const LEFT = 46;
const RIGHT = 10;
const TOP = 18;
const BOTTOM = 34;
const INK = '#1C1A17';
const QUIET = '#57524A';
const GROUND = '#FAF8F3';

export interface Spaces {
  readonly toX: (value: number) => number;
  readonly toY: (value: number) => number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Two-way places are not needed in print: value to point only. */
function spacesOf({ width, height, x, y }: Frame): Spaces {
  const right = width - RIGHT;
  const bottom = height - BOTTOM;
  return {
    toX: (value) => LEFT + ((value - x.low) / (x.high - x.low)) * (right - LEFT),
    toY: (value) => bottom - ((value - y.low) / (y.high - y.low)) * (bottom - TOP),
    left: LEFT,
    right,
    top: TOP,
    bottom,
  };
}

/** The frame with axes, outward ticks, a zero line and the marks inside it. */
export function drawChart(frame: Frame, marks: (spaces: Spaces) => readonly string[]): string {
  const s = spacesOf(frame);
  const { width, height, id } = frame;
  const xTicks = ticksOf(frame.x, 7);
  const { y } = frame;
  const scaled = 'unit' in y ? y : undefined;
  const yTicks = scaled ? ticksOf(scaled, 5) : [];
  const zero = y.low < 0 && y.high > 0 ? line(s.left, s.toY(0), s.right, s.toY(0), QUIET, 0.75) : '';
  return [
    `<svg viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${escapeText(frame.summary)}">`,
    `<clipPath id="${id}"><rect x="${s.left}" y="${s.top}" width="${s.right - s.left}" height="${s.bottom - s.top}"/></clipPath>`,
    `<rect x="${s.left}" y="${s.top}" width="${s.right - s.left}" height="${s.bottom - s.top}" fill="${GROUND}"/>`,
    zero,
    `<g clip-path="url(#${id})">${marks(s).join('')}</g>`,
    line(s.left, s.bottom, s.right, s.bottom, INK, 1),
    scaled ? line(s.left, s.top, s.left, s.bottom, INK, 1) : '',
    ...xTicks.map((t) => line(s.toX(t), s.bottom, s.toX(t), s.bottom + 4, INK, 1)),
    ...yTicks.map((t) => line(s.left - 4, s.toY(t), s.left, s.toY(t), INK, 1)),
    ...xTicks.map((t) => label(s.toX(t), s.bottom + 15, print(t), 'middle')),
    ...('rows' in y
      ? y.rows.map((row) => label(s.left - 7, s.toY(row.at), row.name, 'end', row.colour))
      : []),
    ...yTicks.map((t) => label(s.left - 7, s.toY(t) + 3.5, print(t), 'end')),
    axisName((s.left + s.right) / 2, height - 4, frame.x, 'middle'),
    scaled ? axisName(2, 11, scaled, 'start') : '',
    '</svg>',
  ].join('');
}

export const line = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  colour: string,
  width: number,
  dash = '',
): string =>
  `<line x1="${at(x1)}" y1="${at(y1)}" x2="${at(x2)}" y2="${at(y2)}" stroke="${colour}" stroke-width="${width}"${dash && ` stroke-dasharray="${dash}"`}/>`;

export const label = (
  x: number,
  y: number,
  text: string,
  anchor: 'start' | 'middle' | 'end',
  colour = INK,
): string =>
  `<text x="${at(x)}" y="${at(y)}" text-anchor="${anchor}" fill="${colour}" stroke="${GROUND}" stroke-width="2.5" paint-order="stroke">${escapeText(text)}</text>`;

export const rectangle = (x1: number, x2: number, y1: number, y2: number, fill: string): string =>
  `<rect x="${at(x1)}" y="${at(y1)}" width="${at(x2 - x1)}" height="${at(y2 - y1)}" fill="${fill}"/>`;

export interface Stroke {
  readonly colour: string;
  readonly width: number;
  readonly dash?: string;
  /** Drawn over a wider line in the ground colour, so that it stays apart from what it crosses. */
  readonly casing?: boolean;
}

/** A trace in the units of the axes; thinned to the extremes of each point of width, so that peaks stay. */
export function trace(s: Spaces, x: ArrayLike<number>, y: ArrayLike<number>, stroke: Stroke): string {
  const d = pathOf(s, x, y);
  if (d === '') return '';
  const style = `fill="none" stroke-linejoin="round"`;
  const dash = stroke.dash ? ` stroke-dasharray="${stroke.dash}"` : '';
  const casing = stroke.casing
    ? `<path d="${d}" ${style} stroke="${GROUND}" stroke-width="${stroke.width + 3}"/>`
    : '';
  return `${casing}<path d="${d}" ${style} stroke="${stroke.colour}" stroke-width="${stroke.width}"${dash}/>`;
}

/** A line through a few given points, which are all kept. */
export function corners(s: Spaces, x: readonly number[], y: readonly number[], stroke: Stroke): string {
  const points = x.map((value, i) => `${at(s.toX(value))},${at(s.toY(y[i]))}`);
  const dash = stroke.dash ? ` stroke-dasharray="${stroke.dash}"` : '';
  return `<path d="M${points.join('L')}" fill="none" stroke="${stroke.colour}" stroke-width="${stroke.width}"${dash}/>`;
}

/** The area between two traces over the same instants. */
export function band(
  s: Spaces,
  x: ArrayLike<number>,
  low: ArrayLike<number>,
  high: ArrayLike<number>,
  fill: string,
): string {
  const up = pathOf(s, x, high);
  const back = pathOf(s, reversed(x), reversed(low)).replace(/^M/, 'L');
  return up === '' ? '' : `<path d="${up}${back}Z" fill="${fill}" fill-opacity="0.12"/>`;
}

const reversed = (values: ArrayLike<number>): number[] => Array.from(values).reverse();

function pathOf(s: Spaces, x: ArrayLike<number>, y: ArrayLike<number>): string {
  const points: string[] = [];
  let column = NaN;
  let first = 0;
  const flush = (end: number): void => {
    let low = first;
    let high = first;
    for (let i = first; i < end; i++) {
      if (y[i] < y[low]) low = i;
      if (y[i] > y[high]) high = i;
    }
    const kept = [...new Set([first, Math.min(low, high), Math.max(low, high), end - 1])];
    for (const i of kept) {
      const point = `${at(s.toX(x[i]))},${at(clampTo(s, s.toY(y[i])))}`;
      if (point !== points[points.length - 1]) points.push(point);
    }
  };
  // Either way along the axis; what lies outside the frame is left out.
  for (let i = 0; i < x.length; i++) {
    const here = Math.round(s.toX(x[i]));
    if (here === column) continue;
    if (!Number.isNaN(column)) flush(i);
    column = here < s.left - 1 || here > s.right + 1 ? NaN : here;
    first = i;
  }
  if (!Number.isNaN(column)) flush(x.length);
  return points.length === 0 ? '' : `M${points.join('L')}`;
}

/** Far beyond the frame is cut by it anyway; printers dislike huge numbers. */
const clampTo = (s: Spaces, y: number): number => Math.max(s.top - 400, Math.min(s.bottom + 400, y));

const at = (value: number): string => String(Math.round(value * 10) / 10);

/** Round values inside the axis, about `count` of them, at 1, 2 or 5 times a power of ten. */
export function ticksOf({ low, high }: Axis, count: number): number[] {
  const raw = (high - low) / count;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((m) => m * power).find((m) => m >= raw * 0.999)!;
  const first = Math.ceil(low / step - 1e-9);
  const ticks: number[] = [];
  for (let k = first; k * step <= high + step * 1e-9; k++) ticks.push(Number((k * step).toPrecision(12)));
  return ticks;
}

const print = (value: number): string => String(value === 0 ? 0 : value).replace('-', '−');

function axisName(x: number, y: number, { quantity, unit }: Axis, anchor: 'start' | 'middle'): string {
  return `<text x="${at(x)}" y="${at(y)}" text-anchor="${anchor}" fill="${INK}"><tspan font-style="italic">${escapeText(quantity)}</tspan> / ${escapeText(unit)}</text>`;
}
