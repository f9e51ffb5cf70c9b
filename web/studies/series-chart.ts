import type { Series } from '../../engine/index.ts';
import { acrossAxis, upAxis } from '../chart/axes.ts';
import { makeSpaces, type Spaces } from '../chart/spaces.ts';
import { s } from '../dom.ts';
import { seriesStyle } from '../tokens.ts';
import { LINE_STYLES, markerPath, symbolOf } from './study-styles.ts';

export interface SeriesChartOptions {
  readonly panel: string;
  /** Of one panel; laws belong to the series of the same name before the comma. */
  readonly series: readonly Series[];
  readonly width: number;
  readonly height: number;
  readonly em: number;
  readonly onOpen: (point: number) => void;
}

interface Point {
  readonly x: number;
  readonly y: number;
  readonly index: number;
}

/** Lines with markers over one input, each named at its right end. */
export function seriesChart(options: SeriesChartOptions): SVGSVGElement {
  const { panel, series, width, height, em } = options;
  const shown = series.filter(({ y }) => y.some((value) => value !== null));
  const first = shown[0];
  const labelled = shown.length > 1;
  const margins = { top: 26 * em, right: (labelled ? 148 : 16) * em, bottom: 28 * em, left: 46 * em };
  const points = shown.map(pointsOf);
  const all = points.flat();
  const [x0, x1] = extent(all.map((p) => p.x));
  const [y0, y1] = valueExtent(all.map((p) => p.y));
  const spaces = makeSpaces({ width, height, margins }, { from: x0, to: x1 }, { low: y0, high: y1 });
  const ends = labelled
    ? spread(
        points.map((list) => spaces.y(list.at(-1)?.y ?? 0)),
        14 * em,
        margins.top,
        height - margins.bottom,
      )
    : [];
  return s(
    'svg',
    { viewBox: `0 0 ${width} ${height}`, width, height, role: 'img', 'aria-label': panel, class: 'chart' },
    s('rect', {
      x: margins.left,
      y: margins.top,
      width: Math.max(0, width - margins.left - margins.right),
      height: height - margins.top - margins.bottom,
      class: 'ground',
    }),
    first && acrossAxis(spaces, { symbol: symbolOf(first.xLabel), unit: first.xUnit }, em),
    first && upAxis(spaces, { symbol: symbolOf(first.yLabel), unit: first.yUnit }, em),
    ...shown.map((line, i) => drawSeries(spaces, line, points[i]!, styleIndex(shown, i), options)),
    ...shown.map(
      (line, i) =>
        labelled &&
        s(
          'text',
          { x: width - margins.right + 10 * em, y: ends[i]! + 4 * em, class: 'direct-label study-label' },
          line.name,
        ),
    ),
  );
}

function drawSeries(
  spaces: Spaces,
  line: Series,
  points: readonly Point[],
  style: number,
  { em, onOpen }: SeriesChartOptions,
): SVGGElement {
  const { series, marker } = LINE_STYLES[style % LINE_STYLES.length]!;
  const at = (p: Point) => `${spaces.x(p.x).toFixed(1)},${spaces.y(p.y).toFixed(1)}`;
  const d = points.length > 0 ? `M${points.map(at).join('L')}` : '';
  const { dash } = seriesStyle[series];
  if (line.role !== 'data')
    return s('g', { class: `study-${line.role} line-${series}` }, s('path', { d, class: 'stroke' }));
  return s(
    'g',
    { class: `line line-${series} study-line` },
    s('path', { d, class: 'casing' }),
    s('path', { d, class: 'stroke', ...(dash.length > 0 ? { 'stroke-dasharray': dash.join(' ') } : {}) }),
    ...points.map((p) =>
      s(
        'path',
        {
          d: markerPath(marker, 4 * em),
          transform: `translate(${at(p)})`,
          class: 'marker',
          click: () => onOpen(p.index),
        },
        s('title', {}, `${line.name}: open this point`),
      ),
    ),
  );
}

/** A law is drawn in the style of the line that it belongs to. */
function styleIndex(shown: readonly Series[], i: number): number {
  const data = shown.filter(({ role }) => role !== 'law');
  const line = shown[i]!;
  const owner =
    line.role === 'law' ? data.findIndex(({ name }) => line.name.startsWith(name)) : data.indexOf(line);
  return Math.max(0, owner);
}

const pointsOf = ({ x, y, point }: Series): Point[] =>
  x.flatMap((value, i) => {
    const high = y[i];
    return typeof high === 'number' ? [{ x: value, y: high, index: point[i]! }] : [];
  });

function extent(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!Number.isFinite(low)) return [0, 1];
  const room = (high - low || Math.abs(high) || 1) * 0.04;
  return [low - room, high + room];
}

/** Zero is shown where values come near it; a narrow range far from zero is shown on its own. */
export function valueExtent(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!Number.isFinite(low)) return [0, 1];
  const far = low > 0 && high < 1.6 * low;
  const [a, b] = far ? [low, high] : [Math.min(0, low), Math.max(0, high)];
  const room = (b - a || Math.abs(b) || 1) * 0.08;
  return [a < 0 || far ? a - room : a, b + room];
}

/** Moves labels apart so that neighbours are `gap` px away from each other, in their order from the top. */
export function spread(places: readonly number[], gap: number, top: number, bottom: number): number[] {
  const order = places.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y);
  for (let k = 1; k < order.length; k++) order[k]!.y = Math.max(order[k]!.y, order[k - 1]!.y + gap);
  const over = Math.max(0, (order.at(-1)?.y ?? 0) - bottom);
  let limit = Infinity;
  for (let k = order.length - 1; k >= 0; k--) {
    if (over > 0) order[k]!.y = Math.min(order[k]!.y, k === order.length - 1 ? bottom : limit);
    limit = order[k]!.y - gap;
  }
  const out = [...places];
  for (const { y, i } of order) out[i] = Math.max(top, y);
  return out;
}
