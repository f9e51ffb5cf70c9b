import type { Design } from '../design/design.ts';
import { randomStream } from '../numerics/random.ts';
import { polarityOf } from './winding.ts';

/** Bits of a mat, row-major, one byte a core, 0 or 1; the selected core holds `design.selected.bit`. */
export function storedBits(design: Design): Uint8Array {
  const { rows, columns } = design.mat;
  const { stored, selected } = design;
  const bitAt = patternOf(stored);
  const bits = new Uint8Array(rows * columns);
  for (let r = 0, at = 0; r < rows; r++) for (let c = 0; c < columns; c++) bits[at++] = bitAt(r, c);
  if (stored.complement) for (let at = 0; at < bits.length; at++) bits[at]! ^= 1;
  bits[selected.row * columns + selected.column] = selected.bit;
  return bits;
}

/** The bit at a row and column, asked for in row-major order. */
function patternOf({ kind, seed, rows }: Design['stored']): (r: number, c: number) => number {
  switch (kind) {
    case 'zeros':
      return () => 0;
    case 'ones':
      return () => 1;
    case 'checkerboard':
      return (r, c) => (r + c) & 1;
    case 'row-stripes':
      return (r) => r & 1;
    case 'column-stripes':
      return (_, c) => c & 1;
    case 'random': {
      const random = randomStream(seed, 0);
      return () => (random() < 0.5 ? 0 : 1);
    }
    case 'custom':
      return (r, c) => (rows![r]![c] === '1' ? 1 : 0);
  }
}

/**
 * The pattern that is worst for the selected address: a core of the selected core's polarity adds to its signal,
 * a core of the other polarity subtracts, and a core that holds a ONE answers more than one that holds a ZERO.
 *
 * @param against 'one': makes the least ONE; 'zero': makes the greatest ZERO. One is the complement of the other.
 */
export function worstPattern(design: Design, against: 'one' | 'zero'): Uint8Array {
  const { selected, mat } = design;
  const polarity = polarityOf(mat, design.winding);
  const at = selected.row * mat.columns + selected.column;
  const bits = Uint8Array.from(polarity, (s) => ((s === polarity[at]) === (against === 'zero') ? 1 : 0));
  bits[at] = selected.bit;
  return bits;
}
