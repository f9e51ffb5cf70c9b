import { contours } from 'd3';
import type { MapPlace, StudyMap } from '../../engine/studies/shared/shape.ts';
import { acrossAxis, upAxis } from '../charts/axes.ts';
import { makeSpaces, type Spaces } from '../charts/spaces.ts';
import { hatchFailing } from './hatch.ts';
import { chartSvg, drawGround, plotBox } from '../charts/chart-frame.ts';
import { s } from '../ui/dom.ts';
import { rasterise, type MapSample } from './map-raster.ts';
import { symbolOf } from './study-styles.ts';

export interface MapChartOptions {
  readonly map: StudyMap;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  readonly onOpen: (point: number, at: MapPlace) => void;
}

/** Steps of shading between no margin and the greatest. */
const SHADES = 5;
/** px between the places that shading is drawn from. */
const GRAIN = 4;

type Box = readonly [left: number, top: number, right: number, bottom: number];

/** Shaded by margin where it passes, hatched where it fails, the traced edge between, a dot where it was found. */
export function mapChart({ map, width, height, em, onOpen }: MapChartOptions): SVGSVGElement {
  const margins = { top: 28 * em, right: 16 * em, bottom: 30 * em, left: 52 * em };
  const [x0, x1] = range(map.cells.map((cell) => cell.x));
  const [y0, y1] = range(map.cells.map((cell) => cell.y));
  const spaces = makeSpaces({ width, height, margins }, { from: x0, to: x1 }, { low: y0, high: y1 });
  const box: Box = [margins.left, margins.top, width - margins.right, height - margins.bottom];
  const [nx, ny] = [spaces.x(map.nominal.x), spaces.y(map.nominal.y)];
  const whole = plotBox(spaces);
  const open = (event: MouseEvent): void => {
    const svg = (event.currentTarget as SVGElement).ownerSVGElement!;
    const scale = width / svg.getBoundingClientRect().width;
    const x = (event.clientX - svg.getBoundingClientRect().left) * scale;
    const y = (event.clientY - svg.getBoundingClientRect().top) * scale;
    onOpen(nearest(map, spaces, x, y), { x: spaces.x.invert(x), y: spaces.y.invert(y) });
  };
  return chartSvg(
    {
      name: `Where it works: ${map.yLabel} against ${map.xLabel}`,
      width,
      height,
      className: 'chart study-map',
    },
    hatchFailing('study-fail', 7),
    drawGround(spaces),
    s('rect', { ...whole, fill: 'url(#study-fail)' }),
    ...shading(map, spaces, box),
    s('path', { d: map.contour.map((piece) => pieceOf(piece, spaces)).join(''), class: 'study-edge' }),
    ...map.edge.map((edge) =>
      s('circle', { cx: spaces.x(edge.x), cy: spaces.y(edge.y), r: 2.4 * em, class: 'study-edge-dot' }),
    ),
    acrossAxis(spaces, { symbol: symbolOf(map.xLabel), unit: map.xUnit }, em),
    upAxis(spaces, { symbol: symbolOf(map.yLabel), unit: map.yUnit }, em),
    s('path', { d: `M${nx - 7},${ny}H${nx + 7}M${nx},${ny - 7}V${ny + 7}`, class: 'study-nominal' }),
    s('text', { x: nx + 9, y: ny - 7, class: 'direct-label' }, 'nominal'),
    s(
      'rect',
      { ...whole, class: 'study-hit opens', 'data-opens': 'place', click: open },
      s('title', {}, 'Open the design at this place'),
    ),
  );
}

/**
 * Passing ground on plain ground, darker step by step. Where it passes is known from the traced edge; the margin is
 * drawn from what every place has, on either side of the edge, and shown on the passing side.
 */
function shading(map: StudyMap, spaces: Spaces, box: Box): SVGElement[] {
  const most = Math.max(1e-12, ...map.cells.map((cell) => (cell.pass ? (cell.margin ?? 0) : 0)));
  const samples = ownPlaces(map, spaces);
  const signs = samples.map(({ x, y, cell }) => ({ x, y, value: cell.pass ? 1 : -1 }));
  const margins = samples.flatMap(({ x, y, cell: { margin } }) =>
    margin === null ? [] : [{ x, y, value: clamp(margin, -most, most) }],
  );
  const [passing = ''] = areasOver([...signs, ...besideEdge(map, spaces)], box, [0]);
  const steps = Array.from({ length: SHADES - 1 }, (_, k) => (most * (k + 1)) / SHADES);
  const shades = margins.length < 3 ? [] : areasOver(margins, box, steps);
  const shade = (d: string): SVGElement => s('path', { d, class: 'study-shade', 'fill-rule': 'evenodd' });
  return [
    s('clipPath', { id: 'study-passes' }, s('path', { d: passing, 'clip-rule': 'evenodd' })),
    s('path', { d: passing, class: 'study-pass-ground', 'fill-rule': 'evenodd' }),
    shade(passing),
    s('g', { 'clip-path': 'url(#study-passes)' }, ...shades.map(shade)),
  ];
}

/** Every place once, in px. */
function ownPlaces(map: StudyMap, spaces: Spaces) {
  const seen = new Set<string>();
  return map.cells.flatMap((cell) => {
    const [x, y] = [spaces.x(cell.x), spaces.y(cell.y)];
    const key = `${x.toFixed(2)} ${y.toFixed(2)}`;
    if (seen.has(key)) return [];
    seen.add(key);
    return [{ x, y, cell }];
  });
}

/** Outlines of where the samples' values exceed each threshold, as paths. */
function areasOver(samples: readonly MapSample[], box: Box, thresholds: number[]): string[] {
  const columns = Math.max(8, Math.round((box[2] - box[0]) / GRAIN));
  const rows = Math.max(8, Math.round((box[3] - box[1]) / GRAIN));
  const raster = rasterise(samples, box, columns, rows);
  const [dx, dy] = [(box[2] - box[0]) / (columns - 1), (box[3] - box[1]) / (rows - 1)];
  // Contours place the middle of the first cell at one half.
  const place = ([i, j]: readonly number[]): string => {
    const x = clamp(box[0] + (i! - 0.5) * dx, box[0], box[2]);
    const y = clamp(box[1] + (j! - 0.5) * dy, box[1], box[3]);
    return `${x.toFixed(1)},${y.toFixed(1)}`;
  };
  const areas = contours().size([columns, rows]).thresholds(thresholds)([...raster.values]);
  return areas.map((area) =>
    area.coordinates
      .flat()
      .map((ring) => `M${ring.map(place).join('L')}Z`)
      .join(''),
  );
}

type Piece = StudyMap['contour'][number];

const pieceOf = ({ x1, y1, x2, y2 }: Piece, { x, y }: Spaces): string =>
  `M${x(x1).toFixed(1)},${y(y1).toFixed(1)}L${x(x2).toFixed(1)},${y(y2).toFixed(1)}`;

/** px from the traced edge to the samples on its sides. */
const BESIDE = 1.5;

/** Samples on either side of the traced edge, so that the passing ground follows it between rows and columns. */
function besideEdge(map: StudyMap, { x, y }: Spaces): MapSample[] {
  return map.contour.flatMap(({ x1, y1, x2, y2, passX, passY }) => {
    const [ax, ay, dx, dy] = [x(x1), y(y1), x(x2) - x(x1), y(y2) - y(y1)];
    const length = Math.hypot(dx, dy);
    if (length < 2 * GRAIN) return [];
    // Upward on the map is downward in px.
    const side = Math.sign(-dy * passX - dx * passY) || 1;
    const [nx, ny] = [(-side * dy * BESIDE) / length, (side * dx * BESIDE) / length];
    const count = Math.floor(length / GRAIN);
    return Array.from({ length: count - 1 }, (_, k) => (k + 1) / count).flatMap((f) => [
      { x: ax + f * dx + nx, y: ay + f * dy + ny, value: 1 },
      { x: ax + f * dx - nx, y: ay + f * dy - ny, value: -1 },
    ]);
  });
}

const clamp = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));

function nearest(map: StudyMap, spaces: Spaces, x: number, y: number): number {
  let best = { point: 0, distance: Infinity };
  for (const cell of map.cells) {
    const distance = Math.hypot(spaces.x(cell.x) - x, spaces.y(cell.y) - y);
    if (distance < best.distance) best = { point: cell.point, distance };
  }
  return best.point;
}

function range(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  return Number.isFinite(low) && high > low ? [low, high] : [0, 1];
}
