import type { Design } from '../design/design.ts';
import type { Mat, Winding } from '../design/mat.ts';

/**
 * How the sense (or shared) wire visits the cores of one mat. Core index = row * columns + column.
 */
export interface WirePath {
  /** Core indices in the order of the wire, from end A to end B. Where the wire is cut, the observed segment only. */
  readonly order: Int32Array;
  /** s_z of every core, +1 or -1, by core index (also of cores outside the observed segment). */
  readonly polarity: Int8Array;
  /** Does the same wire carry the inhibit current? */
  readonly shared: boolean;
  /** Two halves joined at the inhibit driver; the joint lies after half of `order`. */
  readonly halves: boolean;
}

/** Polarity of a core as the board plans it, faults left out: what an amplifier of polarity 'address' goes by. */
export const plannedPolarity = ({ mat, winding }: Design, row: number, column: number): number =>
  polarityOf(mat, winding)[row * mat.columns + column]!;

/** True where rows and columns must be even for the winding to be what its name says. */
export function needsEvenSides(kind: Winding['kind']): boolean {
  return kind === 'shared-two-halves' || kind === 'separate-diagonal' || kind === 'separate-rectangular';
}

/** Does the sense wire carry the inhibit current too? */
export const isShared = (winding: Winding): boolean =>
  winding.kind.startsWith('shared') || winding.shared === true;

/** Path and polarity of the design's winding, faults of single cores (threaded backwards) included. */
export function wirePath(design: Design): WirePath {
  const { mat, winding, selected } = design;
  const full = threadingOrder(mat, winding);
  const polarity = polarityOf(mat, winding);
  for (const e of design.exceptions) if (e.reversed) polarity[e.row * mat.columns + e.column]! *= -1;
  const size = Math.floor(full.length / winding.segments);
  const at = full.indexOf(selected.row * mat.columns + selected.column);
  const segment = Math.min(Math.floor(at / size), winding.segments - 1);
  return {
    order: full.slice(segment * size, (segment + 1) * size),
    polarity,
    shared: isShared(winding),
    halves: winding.kind === 'shared-two-halves',
  };
}

/** s_z by core index for the winding alone; a polarity written into it stands for any kind. */
export function polarityOf(mat: Mat, winding: Winding): Int8Array {
  const { rows, columns } = mat;
  if (winding.polarity !== undefined) return Int8Array.from(winding.polarity.flat());
  const polarity = new Int8Array(rows * columns);
  for (let r = 0, at = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) polarity[at++] = ownPolarity(mat, winding.kind, r, c);
  return polarity;
}

/** s_z that a kind of winding gives the core at a row and column. */
function ownPolarity(mat: Mat, kind: Winding['kind'], r: number, c: number): 1 | -1 {
  switch (kind) {
    case 'shared-one-run':
      return 1;
    case 'shared-two-halves':
      return inFirstHalf(mat, r, c) ? 1 : -1;
    case 'separate-diagonal':
      return (r + c) % 2 === 0 ? 1 : -1;
    case 'separate-rectangular':
      return r < mat.rows / 2 === (c % 2 === 0) ? 1 : -1;
    case 'custom':
      throw new Error('A custom winding must have a polarity; checkDesign sees to it.');
  }
}

/**
 * The winding with a stretch of its wire connected backwards: all of it, or one of two halves. Its cores are threaded
 * the other way and stand in the other order, so that inhibit current through a shared wire helps the write there.
 */
export function turnedRound(mat: Mat, winding: Winding, part: 'all' | 'half-a' | 'half-b'): Winding {
  const order = [...threadingOrder(mat, winding)];
  const middle = order.length / 2;
  const [from, to] = { all: [0, order.length], 'half-a': [0, middle], 'half-b': [middle, order.length] }[
    part
  ];
  const turned = order.slice(from, to);
  const signs = polarityOf(mat, winding);
  for (const index of turned) signs[index]! *= -1;
  return {
    ...winding,
    order: [...order.slice(0, from), ...turned.toReversed(), ...order.slice(to)],
    polarity: Array.from({ length: mat.rows }, (_, r) =>
      Array.from(signs.subarray(r * mat.columns, (r + 1) * mat.columns), (sign) => (sign < 0 ? -1 : 1)),
    ),
  };
}

/** Quadrants upper left and lower right: every row and column has half its cores in either half. */
function inFirstHalf(mat: Mat, r: number, c: number): boolean {
  return r < mat.rows / 2 === c < mat.columns / 2;
}

/**
 * Core indices in the order in which the whole wire (all its segments) visits them, from end A to end B. Every kind can
 * be threaded as it stands: there are directions of the drive lines for which the wire passes each core with its
 * polarity (line-directions.ts).
 */
export function threadingOrder(mat: Mat, winding: Winding): Int32Array {
  const { rows, columns } = mat;
  if (winding.order !== undefined) return Int32Array.from(winding.order);
  switch (winding.kind) {
    case 'custom':
      throw new Error('A custom winding must have an order; checkDesign sees to it.');
    case 'shared-two-halves': {
      // Both halves cross from quadrant to quadrant in the middle of the mat. In a row the second half runs against
      // the first, or its polarity would not be the opposite.
      const r2 = rows / 2;
      const c2 = columns / 2;
      const even = r2 % 2 === 0;
      return Int32Array.from([
        ...snake(mat, 0, r2, 0, c2, even),
        ...snake(mat, r2, rows, c2, columns, false),
        ...snake(mat, 0, r2, c2, columns, !even),
        ...snake(mat, r2, rows, 0, c2, true),
      ]);
    }
    case 'separate-diagonal':
      return diagonals(mat);
    case 'separate-rectangular':
      return Int32Array.from(crossedColumns(mat));
    case 'shared-one-run': {
      if (winding.segments === 1) return Int32Array.from(snake(mat, 0, rows, 0, columns, false));
      // Cut across the longer side, so that each segment is a block as square as it can be.
      const n = winding.segments;
      const blocks = Array.from({ length: n }, (_, i) =>
        columns >= rows
          ? snake(mat, 0, rows, Math.round((i * columns) / n), Math.round(((i + 1) * columns) / n), false)
          : snake(mat, Math.round((i * rows) / n), Math.round(((i + 1) * rows) / n), 0, columns, false),
      );
      return Int32Array.from(blocks.flat());
    }
  }
}

/** Row by row, every other row backwards; `backwards`: the first row too. */
function snake(mat: Mat, r0: number, r1: number, c0: number, c1: number, backwards: boolean): number[] {
  const path: number[] = [];
  for (let r = r0; r < r1; r++)
    for (let i = 0; i < c1 - c0; i++)
      path.push(r * mat.columns + ((r - r0) % 2 === (backwards ? 1 : 0) ? c0 + i : c1 - 1 - i));
  return path;
}

/**
 * Columns in pairs, crossed over in the middle of the mat: down the upper half of the first and the lower half of the
 * second, up the lower half of the first and the upper half of the second.
 */
function crossedColumns({ rows, columns }: Mat): number[] {
  const path: number[] = [];
  const half = rows / 2;
  const down = (c: number, from: number, to: number): void => {
    for (let r = from; r < to; r++) path.push(r * columns + c);
  };
  const up = (c: number, from: number, to: number): void => {
    for (let r = to - 1; r >= from; r--) path.push(r * columns + c);
  };
  for (let c = 0; c < columns; c += 2) {
    down(c, 0, half);
    down(c + 1, half, rows);
    up(c, half, rows);
    up(c + 1, 0, half);
  }
  return path;
}

/** Diagonal by diagonal from the corner of row 0, column 0, every other diagonal backwards. */
function diagonals(mat: Mat): Int32Array {
  const path: number[] = [];
  for (let d = 0; d < mat.rows + mat.columns - 1; d++) {
    const run: number[] = [];
    for (let r = Math.max(0, d - mat.columns + 1); r <= Math.min(mat.rows - 1, d); r++)
      run.push(r * mat.columns + (d - r));
    path.push(...(d % 2 === 0 ? run : run.reverse()));
  }
  return Int32Array.from(path);
}
