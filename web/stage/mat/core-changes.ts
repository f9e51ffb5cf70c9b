import type { Design } from '../../../engine/design/design.ts';
import { rawAt, withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Core } from '../../state/atoms.ts';

/** What can be wrong with one core, in a reader's words. */
export const FAULTS = [
  ['none', 'as the others'],
  ['missing', 'missing'],
  ['reversed', 'threaded backwards'],
  ['weak', 'weak: half the flux'],
  ['magnet', 'by a magnet: +1 A'],
] as const;
export type Fault = (typeof FAULTS)[number][0];

const FAULT_FIELDS: Readonly<Record<Exclude<Fault, 'none'>, object>> = {
  missing: { missing: true },
  reversed: { reversed: true },
  weak: { fluxFactor: 0.5 },
  magnet: { bias: '1 A' },
};

export function faultAt({ exceptions }: Design, at: Core): Fault {
  const found = exceptions.find((item) => item.row === at.row && item.column === at.column);
  if (!found) return 'none';
  if (found.missing) return 'missing';
  if (found.reversed) return 'reversed';
  return found.bias === 0 ? 'weak' : 'magnet';
}

/** One core other than the others, or like them again. */
export function withFault(raw: RawDesign, at: Core, fault: Fault): RawDesign {
  const list = (rawAt(raw, '/exceptions') ?? []) as readonly Core[];
  const others = list.filter(({ row, column }) => row !== at.row || column !== at.column);
  const next = fault === 'none' ? others : [...others, { ...at, ...FAULT_FIELDS[fault] }];
  return withValueAt(raw, '/exceptions', next.length > 0 ? next : undefined);
}

/** The pattern as it is with the bit of one core turned. `bits`: row-major, as stored now. */
export function withBitTurned(raw: RawDesign, columns: number, bits: Uint8Array, at: Core): RawDesign {
  const turned = Uint8Array.from(bits);
  turned[at.row * columns + at.column]! ^= 1;
  const rows = Array.from({ length: bits.length / columns }, (_, row) =>
    turned.subarray(row * columns, (row + 1) * columns).join(''),
  );
  return withValueAt(raw, '/stored', { kind: 'custom', rows });
}

export const withCoreRead = (raw: RawDesign, { row, column }: Core): RawDesign =>
  withValueAt(withValueAt(raw, '/selected/row', row), '/selected/column', column);

/** Where an arrow, Home, End or Page key leads; undefined for any other key. */
export function neighbour(
  key: string,
  { row, column }: Core,
  mat: Pick<Design['mat'], 'rows' | 'columns'>,
): Core | undefined {
  const [lastRow, lastColumn] = [mat.rows - 1, mat.columns - 1];
  switch (key) {
    case 'ArrowUp':
      return { row: Math.max(0, row - 1), column };
    case 'ArrowDown':
      return { row: Math.min(lastRow, row + 1), column };
    case 'ArrowLeft':
      return { row, column: Math.max(0, column - 1) };
    case 'ArrowRight':
      return { row, column: Math.min(lastColumn, column + 1) };
    case 'Home':
      return { row, column: 0 };
    case 'End':
      return { row, column: lastColumn };
    case 'PageUp':
      return { row: 0, column };
    case 'PageDown':
      return { row: lastRow, column };
    default:
      return undefined;
  }
}
