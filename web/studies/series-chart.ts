import type { Series } from '../../engine/studies/shared/shape.ts';
import { chartSvg, drawGround } from '../charts/chart-frame.ts';
import { acrossAxis, upAxis } from '../charts/axes.ts';
import { makeSpaces, type Spaces } from '../charts/spaces.ts';
import { s } from '../ui/dom.ts';
import { seriesStyle } from '../ui/tokens.ts';
import { LINE_STYLES, markerPath, symbolOf } from './study-styles.ts';

export interface SeriesChartOptions {
  readonly panel: string;
  /** Of one panel; laws belong to the series of the same name before the comma. */
  readonly series: readonly Series[];
  readonly width: number;
  readonly height: number;
  readonly em: number;
  readonly onOpen: (point: number) => void;
  readonly nameOf: (point: number) => string;
}

interface Point {
  readonly x: number;
  readonly y: number;
  readonly index: number;
}

/** Lines with markers over one input, each named at its right end, or above where there is no room; lines that coincide throughout are one. */
export function seriesChart(options: SeriesChartOptions): SVGSVGElement {
  const { panel, width, em } = options;
  const shown = mergeAlike(options.series.filter(({ y }) => y.some((value) => value !== null)));
  const first = shown[0];
  const named = shown.filter(({ role }) => role !== 'law');
  const labels = named.length > 1 ? named : [];
  const labelRoom = Math.max(0, ...labels.map(({ name }) => name.length * 7.3 + 38));
  const narrow = width < 2.2 * labelRoom * em + 160 * em;
  const margins = {
    top: (26 + (narrow ? 16 * labels.length : 0)) * em,
    right: (narrow ? 16 : Math.max(16, labelRoom)) * em,
    bottom: 28 * em,
    left: 46 * em,
  };
  const height = options.height + (narrow ? 16 * labels.length * em : 0);
  const points = shown.map(pointsOf);
  const all = points.flat();
  const [x0, x1] = extent(all.map((p) => p.x));
  const [y0, y1] = valueExtent(all.map((p) => p.y));
  const spaces = makeSpaces({ width, height, margins }, { from: x0, to: x1 }, { low: y0, high: y1 });
  const ends = narrow
    ? labels.map((_, i) => (8 + 16 * i) * em)
    : spread(
        labels.map((line) => spaces.y(pointsOf(line).at(-1)?.y ?? 0)),
        15 * em,
        margins.top,
        height - margins.bottom,
      );
  return chartSvg(
    { name: panel, width, height },
    drawGround(spaces),
    first && acrossAxis(spaces, { symbol: symbolOf(first.xLabel), unit: first.xUnit }, em),
    first && upAxis(spaces, { symbol: symbolOf(first.yLabel), unit: first.yUnit }, em),
    ...shown.map((line, i) => drawSeries(spaces, line, points[i]!, styleIndex(shown, i), options)),
    ...labels.map((line, i) =>
      nameLine(
        line,
        styleIndex(shown, shown.indexOf(line)),
        narrow ? margins.left : width - margins.right + 8 * em,
        ends[i]!,
        em,
      ),
    ),
  );
}

/** The line's name with its marker and dash before it. */
function nameLine(line: Series, style: number, x: number, y: number, em: number): SVGGElement {
  const { series, marker } = LINE_STYLES[style % LINE_STYLES.length]!;
  const { dash } = seriesStyle[series];
  const limit = line.role === 'limit';
  return s(
    'g',
    { class: limit ? 'study-limit' : `line line-${series} study-line study-key` },
    s('path', {
      d: `M${x},${y}h${22 * em}`,
      class: 'stroke',
      ...(dash.length > 0 && !limit ? { 'stroke-dasharray': dash.join(' ') } : {}),
    }),
    !limit &&
      s('path', {
        d: markerPath(marker, 4 * em),
        transform: `translate(${x + 11 * em},${y})`,
        class: 'marker',
      }),
    s('text', { x: x + 27 * em, y: y + 4 * em, class: 'direct-label study-label' }, line.name),
  );
}

/** Lines that could not be told apart are drawn once, under all their names: nowhere a hundredth of the range from the first. */
export function mergeAlike(series: readonly Series[]): Series[] {
  const values = series.flatMap(({ y }) => y.filter((value) => value !== null));
  const near = 0.01 * (Math.max(...values) - Math.min(...values));
  const alike = (a: Series, b: Series): boolean =>
    a.role === b.role &&
    a.x.length === b.x.length &&
    a.x.every((x, i) => x === b.x[i]) &&
    a.y.every((y, i) => y === b.y[i] || Math.abs((y ?? NaN) - (b.y[i] ?? NaN)) <= near);
  const groups: Series[][] = [];
  for (const line of series) {
    const own = groups.find(([first]) => alike(first!, line));
    if (own) own.push(line);
    else groups.push([line]);
  }
  const nameOf = (group: readonly Series[]): string => {
    if (group.length <= 2) return group.map(({ name }) => name).join('; ');
    const all = series.filter(({ role }) => role === group[0]!.role).length;
    return group.length === all ? `all ${all}` : `the other ${group.length}`;
  };
  return groups.map((group) => ({ ...group[0]!, name: nameOf(group) }));
}

function drawSeries(
  spaces: Spaces,
  line: Series,
  points: readonly Point[],
  style: number,
  { em, onOpen, nameOf }: SeriesChartOptions,
): SVGGElement {
  const { series, marker } = LINE_STYLES[style % LINE_STYLES.length]!;
  const at = (p: Point) => `${spaces.x(p.x).toFixed(1)},${spaces.y(p.y).toFixed(1)}`;
  const apart = line.xLabel === 'pattern';
  const d = points.length > 0 && !apart ? `M${points.map(at).join('L')}` : '';
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
          'data-opens': p.index,
          click: () => onOpen(p.index),
        },
        s('title', {}, `${nameOf(p.index)}: open its design`),
      ),
    ),
  );
}

/** Lines take the styles in order; laws and limits have their own. */
function styleIndex(shown: readonly Series[], i: number): number {
  return shown.slice(0, i).filter(({ role }) => role === 'data').length;
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

/** Zero is shown where values come near it; a narrow range far from zero is shown on its own, not under a tenth. */
export function valueExtent(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!Number.isFinite(low)) return [0, 1];
  const far = low > 0 && high < 1.6 * low;
  const [a, b] = far ? [low, high] : [Math.min(0, low), Math.max(0, high)];
  const room = Math.max((b - a) * 0.08, far ? 0.05 * high : 0, b === 0 && a === 0 ? 1e-3 : 0);
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
