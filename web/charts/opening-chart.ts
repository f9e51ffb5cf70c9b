import { chartSvg, drawGround } from './chart-frame.ts';
import { s } from '../ui/dom.ts';
import type { Openings, Region } from './opening.ts';
import { piecesOf } from './opening.ts';
import { thresholdDash } from '../ui/tokens.ts';
import { acrossAxis, upAxis } from './axes.ts';
import { drawDefinitions } from './marks.ts';
import { makeSpaces, type Spaces, type TimeSpan, type ValueSpan } from './spaces.ts';
import { chartMargins } from './trace-chart.ts';

/** A strobe, s, and a threshold, V. */
export interface Place {
  readonly time: number;
  readonly threshold: number;
}

export interface OpeningChartOptions {
  readonly name: string;
  readonly openings: Openings;
  /** s between samples. */
  readonly step: number;
  readonly inForce: Place;
  readonly best: Place | undefined;
  /** Half sides of the box of what is uncertain about a place. */
  readonly uncertain: Place;
  /** Half sides of the greatest such box, in the same proportions, that fits about the best pair. */
  readonly bestBox: Place | undefined;
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/** Strobe across, threshold upward: the opening, once for each thing that is counted, the best pair, and where one is. */
export function openingChart(options: OpeningChartOptions): { node: SVGSVGElement; spaces: Spaces } {
  const { openings, width, height, em, inForce, best, uncertain, bestBox } = options;
  const margins = chartMargins(em);
  const { time, value } = viewOf(options);
  const spaces = makeSpaces({ width, height, margins }, time, value);
  const clip = { 'clip-path': 'url(#opening-clip)' };
  const region = (places: Region, name: string, fill?: string) =>
    piecesOf(places, options.step).map((piece) =>
      s('path', { d: outline(piece, spaces), class: name, ...(fill ? { fill } : {}) }),
    );
  const node = chartSvg(
    { name: options.name, width, height },
    drawDefinitions(spaces, 'opening'),
    drawGround(spaces),
    acrossAxis(spaces, { symbol: 't', unit: 's' }, em),
    upAxis(spaces, { symbol: 'u', unit: 'V' }, em),
    s(
      'g',
      clip,
      ...region(openings.exact, 'opening-exact'),
      ...region(openings.stated, 'opening-stated'),
      ...(openings.corners ? region(openings.corners, 'opening-corners', 'url(#opening-threshold)') : []),
      best && bestBox && box(best, bestBox, spaces, 'opening-best-box'),
      box(inForce, uncertain, spaces, 'opening-box'),
    ),
    best && cross(best, spaces, em),
    best && label(spaces, best, 'best pair', -1, em),
    s('circle', {
      cx: spaces.x(inForce.time),
      cy: spaces.y(inForce.threshold),
      r: 5 * em,
      class: 'loop-now',
    }),
    label(spaces, inForce, 'in force', 1, em),
  );
  return { node, spaces };
}

/** Room for the opening, and for where one is. */
function viewOf({ openings, inForce, best, bestBox, uncertain }: OpeningChartOptions): {
  readonly time: TimeSpan;
  readonly value: ValueSpan;
} {
  const corners = ({ time, threshold }: Place, half: Place | undefined): readonly Place[] =>
    [-1, 1].map((side) => ({
      time: time + side * (half?.time ?? 0),
      threshold: threshold + side * (half?.threshold ?? 0),
    }));
  const places = [
    ...corners(inForce, uncertain),
    ...(best ? corners(best, bestBox) : []),
    ...openings.exact.filter(wideEnough(openings.exact)).flatMap(({ time, low, high }) => [
      { time, threshold: low },
      { time, threshold: high },
    ]),
  ];
  const span = (values: readonly number[], least: number): readonly [number, number] => {
    const low = values.reduce((a, b) => Math.min(a, b), Infinity);
    const high = values.reduce((a, b) => Math.max(a, b), -Infinity);
    const room = Math.max(0.06 * (high - low), least);
    return [low - room, high + room];
  };
  const [from, to] = span(
    places.map(({ time }) => time),
    5e-9,
  );
  const [low, high] = span(
    places.map(({ threshold }) => threshold),
    0.05 * Math.abs(inForce.threshold),
  );
  return { time: { from, to }, value: { low, high } };
}

/** Where the region is a hair's breadth, as in the tail of a ONE, it need not be in view. */
function wideEnough(region: Region): (place: Region[number]) => boolean {
  const widest = region.reduce((most, { low, high }) => Math.max(most, high - low), 0);
  return ({ low, high }) => high - low > 0.03 * widest;
}

function outline(piece: Region, { x, y }: Spaces): string {
  const upper = piece.map(({ time, high }) => `${x(time).toFixed(1)},${y(high).toFixed(1)}`);
  const lower = piece.map(({ time, low }) => `${x(time).toFixed(1)},${y(low).toFixed(1)}`).reverse();
  return `M${[...upper, ...lower].join('L')}Z`;
}

function box(at: Place, half: Place, { x, y }: Spaces, name: string): SVGRectElement {
  const [left, right] = [x(at.time - half.time), x(at.time + half.time)];
  const [top, bottom] = [y(at.threshold + half.threshold), y(at.threshold - half.threshold)];
  return s('rect', {
    x: left,
    y: top,
    width: Math.max(1, right - left),
    height: Math.max(1, bottom - top),
    class: name,
    'stroke-dasharray': name === 'opening-best-box' ? thresholdDash.join(' ') : undefined,
  });
}

function cross({ time, threshold }: Place, { x, y }: Spaces, em: number): SVGPathElement {
  const [cx, cy, r] = [x(time), y(threshold), 7 * em];
  return s('path', { d: `M${cx - r},${cy}H${cx + r}M${cx},${cy - r}V${cy + r}`, class: 'opening-best' });
}

/** Beside a place, on the side where there is room: above (-1) or below (1) it. */
function label(spaces: Spaces, at: Place, text: string, side: -1 | 1, em: number): SVGTextElement {
  const { x, y, width, height, margins } = spaces;
  const room = text.length * 7.1 * em + 10;
  const left = x(at.time) + 10 + room > width - margins.right;
  const place = y(at.threshold) + (side < 0 ? -9 * em : 18 * em);
  return s(
    'text',
    {
      x: x(at.time) + (left ? -9 : 9),
      y: Math.min(Math.max(place, margins.top + 12 * em), height - margins.bottom - 5),
      class: 'direct-label',
      'text-anchor': left ? 'end' : 'start',
    },
    text,
  );
}
