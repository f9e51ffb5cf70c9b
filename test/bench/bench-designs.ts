import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import type { CoreSpread } from '../../engine/network/class-members.ts';

/** Invented designs of a size, all defaults but for what is measured: a read-write cycle of 3 us, output each ns. */

export function squareMat(size: number, cycles = 1, extra: Readonly<Record<string, unknown>> = {}): Design {
  const raw = { mat: { rows: size, columns: size }, ...extra };
  if (cycles === 1) return checkDesign(raw);
  const { selected } = checkDesign(raw);
  const history = Array.from({ length: cycles - 1 }, (_, i) => ({
    row: (selected.row + 1 + i) % size,
    column: (selected.column + 1 + i) % size,
    lines: 'both',
    read: true,
    write: i % 2 === 0 ? 'zero' : 'one',
  }));
  const observed = {
    row: selected.row,
    column: selected.column,
    lines: 'both',
    read: true,
    write: 'restore',
  };
  return checkDesign({ ...raw, programme: [...history, observed] });
}

/** The same without what the plain form of the equations leaves out. */
export const plainMat = (size: number): Design =>
  squareMat(size, 1, { wire: { couplingCapacitance: '0 pF' } });

/** Every core different by 3 %. */
export function allDifferent(size: number): CoreSpread {
  const z = normalDeviates(randomStream(1, size));
  const draw = (): Float64Array => Float64Array.from({ length: size * size }, () => 1 + 0.03 * z());
  return { threshold: draw(), flux: draw(), elastic: draw() };
}
