import type { Design } from '../../engine/design/design.ts';

export interface Column {
  /** With its unit: "least ONE / V". */
  readonly title: string;
  readonly values: ArrayLike<number | string>;
}

export interface Picture {
  readonly svg: SVGSVGElement;
  readonly title?: string;
}

/** What one chart shows, as numbers and words: the source of its table, its summary and its exports. */
export interface ChartData {
  /** File name without ending. */
  readonly file: string;
  readonly title: string;
  /** One paragraph for readers who cannot see the chart. */
  readonly summary: string;
  readonly columns: readonly Column[];
  readonly design: Design;
  /** Seed of what was drawn at random; left out: that of the stored pattern. */
  readonly seed?: number;
  /** The chart as it stands on the page; several are stacked in a file, each under its title. */
  readonly pictures: readonly Picture[];
}

/** At most `limit` row numbers, evenly spread, first and last among them. */
export function rowsToShow(length: number, limit: number): number[] {
  if (length <= limit) return Array.from({ length }, (_, i) => i);
  return Array.from({ length: limit }, (_, i) => Math.round((i * (length - 1)) / (limit - 1)));
}
