import { Delaunay } from 'd3';

/** A place of the map in px with its value: margin where it passes, below zero where it fails. */
export interface MapSample {
  readonly x: number;
  readonly y: number;
  readonly value: number;
}

export interface Raster {
  readonly columns: number;
  readonly rows: number;
  /** Row by row from the top; straight over every triangle of neighbouring samples. */
  readonly values: Float64Array;
}

/**
 * Samples spread over even places. The samples crowd in pairs about the edge, one on either side, so that zero is
 * crossed where the edge was found.
 *
 * @param box px: left, top, right, bottom
 */
export function rasterise(
  samples: readonly MapSample[],
  [left, top, right, bottom]: readonly [number, number, number, number],
  columns: number,
  rows: number,
): Raster {
  const delaunay = Delaunay.from(
    samples,
    (sample) => sample.x,
    (sample) => sample.y,
  );
  const [dx, dy] = [(right - left) / (columns - 1), (bottom - top) / (rows - 1)];
  const values = new Float64Array(columns * rows).fill(NaN);
  const { triangles } = delaunay;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [samples[triangles[t]!]!, samples[triangles[t + 1]!]!, samples[triangles[t + 2]!]!];
    const area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
    if (Math.abs(area) < 1e-9) continue;
    const from = Math.max(0, Math.ceil((Math.min(a.x, b.x, c.x) - left) / dx - 1e-6));
    const to = Math.min(columns - 1, Math.floor((Math.max(a.x, b.x, c.x) - left) / dx + 1e-6));
    const first = Math.max(0, Math.ceil((Math.min(a.y, b.y, c.y) - top) / dy - 1e-6));
    const last = Math.min(rows - 1, Math.floor((Math.max(a.y, b.y, c.y) - top) / dy + 1e-6));
    for (let j = first; j <= last; j++) {
      for (let i = from; i <= to; i++) {
        const [x, y] = [left + i * dx, top + j * dy];
        const wb = ((x - a.x) * (c.y - a.y) - (c.x - a.x) * (y - a.y)) / area;
        const wc = ((b.x - a.x) * (y - a.y) - (x - a.x) * (b.y - a.y)) / area;
        if (wb < -1e-6 || wc < -1e-6 || wb + wc > 1 + 1e-6) continue;
        values[j * columns + i] = (1 - wb - wc) * a.value + wb * b.value + wc * c.value;
      }
    }
  }
  for (let k = 0; k < values.length; k++) {
    if (!Number.isNaN(values[k]!)) continue;
    const nearest = delaunay.find(left + (k % columns) * dx, top + Math.floor(k / columns) * dy);
    values[k] = samples[nearest]!.value;
  }
  return { columns, rows, values };
}
