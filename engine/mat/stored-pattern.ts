import type { Design } from '../design/design.ts';
import { randomStream } from '../numerics/random.ts';
import { polarityOf } from './winding.ts';

/** Bits of a mat, row-major, one byte a core, 0 or 1; the selected core holds `design.selected.bit`. */
export function storedBits(design: Design): Uint8Array {
  const { rows, columns } = design.mat;
  const { stored, selected } = design;
  const random = randomStream(stored.seed, 0);
  const bits = new Uint8Array(rows * columns);
  for (let r = 0, at = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      const bit = patternBit(design, r, c, random);
      bits[at++] = stored.complement ? 1 - bit : bit;
    }
  bits[selected.row * columns + selected.column] = selected.bit;
  return bits;
}

function patternBit(design: Design, r: number, c: number, random: () => number): number {
  switch (design.stored.kind) {
    case 'zeros':
      return 0;
    case 'ones':
      return 1;
    case 'checkerboard':
      return (r + c) % 2;
    case 'row-stripes':
      return r % 2;
    case 'column-stripes':
      return c % 2;
    case 'random':
      return random() < 0.5 ? 0 : 1;
    case 'custom':
      return design.stored.rows![r]![c] === '1' ? 1 : 0;
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
