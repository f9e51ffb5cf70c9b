import { s } from '../ui/dom.ts';
import type { Plan } from './mat-spaces.ts';

/** px of a core's pitch under which no ring, and no wire through it, could be told from its neighbours. */
const FINEST_RING = 2;

export const tooFine = (pitch: number): boolean => pitch < FINEST_RING;

/**
 * The cores of a mat of tens of thousands as cells that touch: one path for all that look alike, neighbours of a row
 * drawn as one, so that it takes no longer than a mat of a quarter as many rings.
 *
 * @param lookOf class names of a core by its index
 */
export function fineCells(
  { rows, columns, pitch, left, top }: Plan,
  lookOf: (index: number) => string,
): SVGPathElement[] {
  const paths = new Map<string, string[]>();
  const px = (value: number): string => value.toFixed(2);
  for (let row = 0; row < rows; row++) {
    const first = row * columns;
    for (let from = 0; from < columns;) {
      const look = lookOf(first + from);
      let to = from + 1;
      while (to < columns && lookOf(first + to) === look) to++;
      const along = px((to - from) * pitch);
      const cells = paths.get(look) ?? [];
      cells.push(`M${px(left + from * pitch)},${px(top + row * pitch)}h${along}v${px(pitch)}h-${along}z`);
      paths.set(look, cells);
      from = to;
    }
  }
  return [...paths].map(([look, cells]) => s('path', { d: cells.join(''), class: look }));
}
