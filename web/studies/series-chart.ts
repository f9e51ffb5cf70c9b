import type { Series } from '../../engine/studies/shared/shape.ts';
import { chartSvg, drawGround } from '../charts/chart-frame.ts';
import { acrossAxis, upAxis } from '../charts/axes.ts';
import { makeSpaces, type Spaces } from '../charts/spaces.ts';
import { s } from '../ui/dom.ts';
import { seriesStyle } from '../ui/tokens.ts';
import { extent, mergeAlike, spread, valueExtent } from './series-lines.ts';
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
