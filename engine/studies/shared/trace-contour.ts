import type { StudyMap } from './shape.ts';

type MapEdge = StudyMap['edge'][number];
export type ContourPiece = StudyMap['contour'][number];

/**
 * Joins the edges found along rows and columns into a contour: within each rectangle between neighbouring rows and
 * columns, crossings of its sides are joined in pairs. Exact where the edge is straight between lines.
 *
 * @param xs, ys places of the columns and of the rows, increasing
 */
export function joinEdges(
  edges: readonly MapEdge[],
  xs: readonly number[],
  ys: readonly number[],
): ContourPiece[] {
  const pieces: ContourPiece[] = [];
  const width = xs.at(-1)! - xs[0]!;
  const height = ys.at(-1)! - ys[0]!;
  const onRow = edges.filter((edge) => edge.along === 'x');
  const onColumn = edges.filter((edge) => edge.along === 'y');
  for (let j = 0; j + 1 < ys.length; j++) {
    for (let i = 0; i + 1 < xs.length; i++) {
      const inX = (edge: MapEdge): boolean => edge.x >= xs[i]! && edge.x < xs[i + 1]!;
      const inY = (edge: MapEdge): boolean => edge.y >= ys[j]! && edge.y < ys[j + 1]!;
      const crossings = [
        ...onRow.filter((edge) => inX(edge) && (edge.y === ys[j] || edge.y === ys[j + 1])),
        ...onColumn.filter((edge) => inY(edge) && (edge.x === xs[i] || edge.x === xs[i + 1])),
      ];
      const centre = { x: (xs[i]! + xs[i + 1]!) / 2, y: (ys[j]! + ys[j + 1]!) / 2 };
      pieces.push(...pair(crossings, width, height, centre));
    }
  }
  return pieces;
}

/** Nearest pairs first, in units of the whole map; a crossing that is left over stays unjoined. */
function pair(
  crossings: readonly MapEdge[],
  width: number,
  height: number,
  centre: { readonly x: number; readonly y: number },
): ContourPiece[] {
  const left = [...crossings];
  const pieces: ContourPiece[] = [];
  while (left.length >= 2) {
    let best = { a: 0, b: 1, distance: Infinity };
    for (let a = 0; a < left.length; a++)
      for (let b = a + 1; b < left.length; b++) {
        const distance = Math.hypot((left[a]!.x - left[b]!.x) / width, (left[a]!.y - left[b]!.y) / height);
        if (distance < best.distance) best = { a, b, distance };
      }
    const [a, b] = [left[best.a]!, left[best.b]!];
    left.splice(best.b, 1);
    left.splice(best.a, 1);
    pieces.push({ x1: a.x, y1: a.y, x2: b.x, y2: b.y, ...passing(a, b, centre) });
  }
  return pieces;
}

/**
 * Side on which a piece passes. Two crossings of one line bound what passes (or fails) between them there, and what
 * the rectangle beyond adds to it is not known: the piece closes it on the line.
 */
function passing(
  a: MapEdge,
  b: MapEdge,
  centre: { readonly x: number; readonly y: number },
): Pick<ContourPiece, 'passX' | 'passY'> {
  if (a.along === 'y' && b.along === 'y' && a.x === b.x)
    return { passX: (a.y < b.y ? a : b).side * Math.sign(a.x - centre.x), passY: 0 };
  if (a.along === 'x' && b.along === 'x' && a.y === b.y)
    return { passX: 0, passY: (a.x < b.x ? a : b).side * Math.sign(a.y - centre.y) };
  const toward = (axis: 'x' | 'y'): number =>
    [a, b].reduce((sum, edge) => sum + (edge.along === axis ? edge.side : 0), 0);
  return { passX: toward('x'), passY: toward('y') };
}
