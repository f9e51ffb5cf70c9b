import { Delaunay } from 'd3';
import type { MapPlace, StudyMap } from '../../engine/index.ts';
import { acrossAxis, upAxis } from '../chart/axes.ts';
import { makeSpaces, type Spaces } from '../chart/spaces.ts';
import { s } from '../dom.ts';
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

/**
 * Each computed place owns the ground nearest to it: the more margin the darker; hatched where it fails. Places
 * crowd about the edge, since it was found by halving, and so the line between passing and failing ground is the
 * traced edge, whatever its shape.
 */
export function mapChart({ map, width, height, em, onOpen }: MapChartOptions): SVGSVGElement {
  const margins = { top: 28 * em, right: 16 * em, bottom: 30 * em, left: 52 * em };
  const [x0, x1] = range(map.cells.map((cell) => cell.x));
  const [y0, y1] = range(map.cells.map((cell) => cell.y));
  const spaces = makeSpaces({ width, height, margins }, { from: x0, to: x1 }, { low: y0, high: y1 });
  const box = [margins.left, margins.top, width - margins.right, height - margins.bottom] as const;
  const cells = distinct(map, spaces);
  const delaunay = Delaunay.from(
    cells,
    (cell) => spaces.x(cell.x),
    (cell) => spaces.y(cell.y),
  );
  const voronoi = delaunay.voronoi([...box]);
  const most = Math.max(1e-12, ...cells.map((cell) => (cell.pass ? (cell.margin ?? 0) : 0)));
  const [nx, ny] = [spaces.x(map.nominal.x), spaces.y(map.nominal.y)];
  return s(
    'svg',
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      'aria-label': `Where it works: ${map.yLabel} against ${map.xLabel}`,
      class: 'chart study-map',
    },
    s(
      'defs',
      {},
      s(
        'pattern',
        {
          id: 'study-fail',
          width: 7,
          height: 7,
          patternUnits: 'userSpaceOnUse',
          patternTransform: 'rotate(45)',
        },
        s('line', { x1: 0, x2: 0, y1: 0, y2: 7, class: 'hatch-fail' }),
      ),
    ),
    s('rect', { x: box[0], y: box[1], width: box[2] - box[0], height: box[3] - box[1], class: 'ground' }),
    ...cells.map((cell, i) => {
      const shade = Math.min(SHADES, 1 + Math.floor((SHADES * Math.max(0, cell.margin ?? 0)) / most));
      return s(
        'path',
        {
          d: voronoi.renderCell(i),
          class: cell.pass ? `cell pass shade-${shade}` : 'cell fail',
          ...(cell.pass ? {} : { fill: 'url(#study-fail)' }),
          click: () => onOpen(cell.point, cell),
        },
        s('title', {}, `${cell.pass ? 'passes' : 'fails'}: open this place`),
      );
    }),
    s('path', { d: edgePath(cells, delaunay, voronoi.circumcenters, box), class: 'study-edge' }),
    acrossAxis(spaces, { symbol: symbolOf(map.xLabel), unit: map.xUnit }, em),
    upAxis(spaces, { symbol: symbolOf(map.yLabel), unit: map.yUnit }, em),
    s('path', { d: `M${nx - 7},${ny}H${nx + 7}M${nx},${ny - 7}V${ny + 7}`, class: 'study-nominal' }),
    s('text', { x: nx + 9, y: ny - 7, class: 'direct-label' }, 'nominal'),
  );
}

type Cell = StudyMap['cells'][number];

/** One cell a place: rows and columns meet, and a place computed twice is the same. */
function distinct(map: StudyMap, spaces: Spaces): readonly Cell[] {
  const seen = new Set<string>();
  return map.cells.filter((cell) => {
    const key = `${spaces.x(cell.x).toFixed(2)} ${spaces.y(cell.y).toFixed(2)}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Border between the ground of passing and of failing places, within the plot. */
function edgePath(
  cells: readonly Cell[],
  { halfedges, triangles }: Delaunay<Cell>,
  centres: ArrayLike<number>,
  [left, top, right, bottom]: readonly [number, number, number, number],
): string {
  const clampX = (x: number): string => Math.min(right, Math.max(left, x)).toFixed(1);
  const clampY = (y: number): string => Math.min(bottom, Math.max(top, y)).toFixed(1);
  const parts: string[] = [];
  for (let e = 0; e < halfedges.length; e++) {
    const twin = halfedges[e]!;
    if (twin < e) continue;
    const a = cells[triangles[e]!]!;
    const b = cells[triangles[e % 3 === 2 ? e - 2 : e + 1]!]!;
    if (a.pass === b.pass) continue;
    const [p, q] = [2 * Math.floor(e / 3), 2 * Math.floor(twin / 3)];
    parts.push(
      `M${clampX(centres[p]!)},${clampY(centres[p + 1]!)}L${clampX(centres[q]!)},${clampY(centres[q + 1]!)}`,
    );
  }
  return parts.join('');
}

function range(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  return Number.isFinite(low) && high > low ? [low, high] : [0, 1];
}
