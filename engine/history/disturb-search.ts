import { anotherAddress } from '../mat/another-address.ts';
import type { KickedCore } from '../core/kicks.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import type { MatHistory } from './mat-history.ts';

/** Something that can happen to a core between its write and its read, as a cycle at another address or on one line. */
export interface Disturbance {
  readonly name: string;
  readonly cycle: Cycle;
}

/**
 * All that a mat can do to the selected core without selecting it: a half-read or a half-write on its row or column
 * alone, whole cycles at another address of its row or column, and the inhibit of a cycle that shares no line with it.
 */
export function disturbances(design: Design): readonly Disturbance[] {
  const { row, column } = design.selected;
  const { rows, columns } = design.mat;
  const other = anotherAddress(design.mat, design.selected);
  const list: Disturbance[] = [];
  const half = (lines: 'x' | 'y', name: string): void => {
    const cycle = { row, column, lines } as const;
    list.push(
      { name: `half-read on the ${name}`, cycle: { ...cycle, read: true, write: 'none' } },
      { name: `half-write on the ${name}`, cycle: { ...cycle, read: false, write: 'one' } },
    );
  };
  const whole = (at: { row: number; column: number }, where: string): void => {
    for (const write of ['one', 'zero'] as const)
      list.push({
        name: `cycle ${where} that writes a ${write === 'one' ? 'ONE' : 'ZERO'}`,
        cycle: { ...at, lines: 'both', read: true, write },
      });
  };
  half('x', 'row');
  half('y', 'column');
  if (columns > 1) whole({ row, column: other.column }, 'elsewhere on the row');
  if (rows > 1) whole({ row: other.row, column }, 'elsewhere on the column');
  if (rows > 1 && columns > 1) whole(other, 'off row and column');
  return list;
}

export interface FoundTrain {
  readonly train: readonly Disturbance[];
  /** Wb, main flux of the core after it. */
  readonly flux: number;
}

/**
 * Train of at most `length` disturbances that brings the core's main flux lowest (or highest). Each disturbance moves
 * the flux by a map that keeps order (of two states the higher stays the higher), so that the best train of n + 1 is
 * the best train of n and then the best single disturbance: the search is exact over all trains of that length (of a
 * core of rings, where every ring is moved most by the same disturbance).
 * Ends early when nothing moves the core further. Equal steps keep the first in the list.
 */
export function extremeTrain(
  history: MatHistory,
  index: number,
  start: KickedCore,
  among: readonly Disturbance[],
  length: number,
  toward: 'low' | 'high',
): FoundTrain {
  const sign = toward === 'low' ? -1 : 1;
  const train: Disturbance[] = [];
  let state: KickedCore = { ...start };
  for (let n = 0; n < length; n++) {
    let best: { by: Disturbance; state: KickedCore } | undefined;
    for (const by of among) {
      const next = { ...state };
      history.move(by.cycle, index, next);
      if (sign * (next.phi - (best?.state ?? state).phi) > 0) best = { by, state: next };
    }
    if (best === undefined) break;
    train.push(best.by);
    state = best.state;
  }
  return { train, flux: state.phi };
}
