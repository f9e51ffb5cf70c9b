import { upAxis } from '../../charts/axes.ts';
import { drawThresholdZone, drawDefinitions } from '../../charts/marks.ts';
import { withMinus } from '../../charts/prefix.ts';
import { makeSpaces, type Margins, type Spaces, type ValueSpan } from '../../charts/spaces.ts';
import { s } from '../../ui/dom.ts';
import type { StairColumn, Stairs } from './stairs.ts';
import { SIDES, type Side } from './stairs.ts';

export interface StairsChartOptions {
  readonly name: string;
  readonly stairs: Stairs;
  /** V up the side: the trace's own where all stairs lie in it. */
  readonly value: ValueSpan;
  readonly margins: Margins;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  /** The columns of the evidence that is open; the others step back. */
  readonly lit: readonly StairColumn['key'][];
}

/** Steps of the least ONE downward (left in each column) and of the greatest ZERO upward (right), the threshold's band behind. */
export function drawStairs(options: StairsChartOptions): SVGSVGElement {
  const { stairs, value, margins, width, height, em, lit } = options;
  const spaces = makeSpaces({ width, height, margins }, { from: 0, to: stairs.columns.length }, value);
  const bottom = height - margins.bottom;
  const wide = stairs.wideBand;
  return s(
    'svg',
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      class: 'chart stairs',
      'aria-label': options.name,
    },
    drawDefinitions(spaces, 'stairs'),
    s('rect', {
      x: margins.left,
      y: margins.top,
      width: Math.max(0, width - margins.left - margins.right),
      height: Math.max(0, bottom - margins.top),
      class: 'ground',
    }),
    drawThresholdZone(spaces, stairs.band, 'stairs'),
    ...(wide ? [wide.low, wide.high].map((volts) => across(spaces, volts, 'wide-band')) : []),
    upAxis(spaces, { symbol: 'u', unit: 'V' }, em),
    ...SIDES.map((side) => levelLine(spaces, stairs, side)),
    ...stairs.columns.map((column, i) => drawColumn(spaces, column, i, em, lit)),
    ...stairs.columns.map((column, i) => caption(spaces, column, i, stairs.columns.length, em)),
    ...endLabels(spaces, stairs, em),
  );
}

const across = ({ y, margins, width }: Spaces, volts: number, name: string): SVGLineElement =>
  s('line', { x1: margins.left, x2: width - margins.right, y1: y(volts), y2: y(volts), class: name });

/** px of a stair in its column: the ONE to the left of its middle, the ZERO to the right. */
function placeOf({ x }: Spaces, index: number, side: Side): readonly [from: number, width: number] {
  const room = (x(index + 1) - x(index)) * 0.42;
  const middle = (x(index) + x(index + 1)) / 2;
  return [side === 'one' ? middle - room : middle, room];
}

function drawColumn(
  spaces: Spaces,
  { key, stairs }: StairColumn,
  index: number,
  em: number,
  lit: StairsChartOptions['lit'],
): SVGGElement {
  const faded = lit.length > 0 && !lit.includes(key);
  const marks = SIDES.flatMap((side) => {
    const { from, to } = stairs[side];
    if (from === to) return [];
    const [left, room] = placeOf(spaces, index, side);
    const [top, foot] = [spaces.y(Math.max(from, to)), spaces.y(Math.min(from, to))];
    const bar = s('rect', {
      x: left,
      width: room,
      y: top,
      height: Math.max(1, foot - top),
      class: `stair stair-${key} stair-${side}`,
    });
    const volts = to - from;
    if (Math.abs(volts) < 0.05e-3) return [bar];
    const text = s(
      'text',
      {
        x: figureAt(spaces, left + room / 2, em),
        y: top - 4 * em,
        class: 'stair-figure',
        'text-anchor': 'middle',
      },
      `${volts > 0 && key !== 'core' ? '+' : ''}${tenths(volts)}`,
    );
    return [bar, text];
  });
  return s('g', { class: faded ? 'faded' : '' }, ...marks);
}

/** px of the middle of a figure that keeps to the plot: it lies neither over the axis nor over the words of the ends. */
const figureAt = ({ margins, width }: Spaces, middle: number, em: number): number =>
  Math.min(Math.max(middle, margins.left + HALF_FIGURE * em), width - margins.right - HALF_FIGURE * em);

/** px of half of "−24.3". */
const HALF_FIGURE = 18;

/** Millivolts with one digit after the point, which is what is known. */
export const tenths = (volts: number): string => {
  const text = withMinus((volts * 1e3).toFixed(1));
  return text === '−0.0' ? '0.0' : text;
};

/** From stair to stair the height that is reached. */
function levelLine(spaces: Spaces, { columns }: Stairs, side: Side): SVGPathElement {
  const { x, y } = spaces;
  const path = columns.map(({ stairs }, i) => {
    const [left, room] = placeOf(spaces, i, side);
    const level = y(stairs[side].to).toFixed(1);
    const next = i + 1 < columns.length ? placeOf(spaces, i + 1, side)[0] : x(columns.length);
    return `M${(left + room).toFixed(1)},${level}H${next.toFixed(1)}`;
  });
  return s('path', { d: path.join(''), class: `stair-level level-${side}` });
}

/** px a column must have for all captions to stand in one line. */
export const CAPTION_ROOM = 58;

/** Every second caption stands a line lower where columns are narrow. */
function caption(
  { x, height, margins }: Spaces,
  { title }: StairColumn,
  index: number,
  count: number,
  em: number,
): SVGTextElement {
  const narrow = x(1) - x(0) < CAPTION_ROOM * em;
  const line = narrow && index % 2 === 1 ? 1 : 0;
  const last = index === count - 1 && narrow;
  return s(
    'text',
    {
      x: last ? x(index + 1) : (x(index) + x(index + 1)) / 2,
      y: height - margins.bottom + (13 + 14 * line) * em,
      class: 'tick-text',
      'text-anchor': last ? 'end' : 'middle',
    },
    title,
  );
}

/** px beside the stairs for the words of their ends. */
export const END_ROOM = 76;

/** Where both stairs end, beside their last level; two that are close stand over each other. */
function endLabels({ y, width }: Spaces, { columns }: Stairs, em: number): SVGTextElement[] {
  const last = columns.at(-1)!;
  const levels = SIDES.map((side) => y(last.stairs[side].to)) as [number, number];
  const apart = 14 * em;
  const middle = (levels[0] + levels[1]) / 2;
  const close = Math.abs(levels[0] - levels[1]) < apart;
  const upper = levels[0] <= levels[1] ? 0 : 1;
  return SIDES.map((side, i) => {
    const at = close ? middle + (i === upper ? -0.5 : 0.5) * apart : levels[i]!;
    return s(
      'text',
      { x: width - 2, y: at + 4 * em, class: `stair-end label-${side}`, 'text-anchor': 'end' },
      `${side === 'one' ? 'ONE' : 'ZERO'} ${tenths(last.stairs[side].to)}`,
    );
  });
}
