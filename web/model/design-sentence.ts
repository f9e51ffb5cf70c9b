import { formatPeriod } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import type { WindingKind } from '../../engine/design/mat.ts';

const WINDINGS: Readonly<Record<WindingKind, string>> = {
  'shared-one-run': 'on one shared wire in one run',
  'shared-two-halves': 'on one shared wire in two halves',
  'separate-diagonal': 'with a sense wire of its own, diagonal',
  'separate-rectangular': 'with a sense wire of its own, rectangular',
  custom: 'on a wire threaded as stated',
};

/** What a stranger must know first: "256 cores of a core memory on one shared wire in one run, 12 mats, a cycle every 4 µs." */
export function designSentence({ mat, winding, cycle, note }: Design): string {
  const count = mat.rows * mat.columns;
  const mats = mat.mats > 1 ? `, ${mat.mats} mats` : '';
  const cores =
    count === 1 ? 'One core' : `${count.toLocaleString('en').replaceAll(',', ' ')} cores of a core memory`;
  const invented = /invented/i.test(note) ? ' Invented demo.' : '';
  return `${cores} ${WINDINGS[winding.kind]}${mats}, a cycle every ${formatPeriod(cycle.period)}.${invented}`;
}
