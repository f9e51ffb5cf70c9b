import type { Mat } from '../design/mat.ts';

/**
 * Another address of the mat: one that shares no line with the given one: the next
 * row and the next column, from the last on to the first. A mat of one row or column moves along the other alone.
 */
export const anotherAddress = (
  { rows, columns }: Pick<Mat, 'rows' | 'columns'>,
  { row, column }: { readonly row: number; readonly column: number },
): { readonly row: number; readonly column: number } => ({
  row: (row + 1) % rows,
  column: (column + 1) % columns,
});
