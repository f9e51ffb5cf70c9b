import { formatPeriod } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';

const WINDING_WORDS: Readonly<Record<Design['winding']['kind'], string>> = {
  'shared-one-run': 'shared wire, one run',
  'shared-two-halves': 'shared wire, two halves',
  'separate-diagonal': 'separate sense wire, diagonal',
  'separate-rectangular': 'separate sense wire, rectangular',
  custom: 'custom winding',
};

/** One line that says which design this is. */
export function describeDesign({ name, mat, winding, selected, cycle }: Design): string {
  const title = name === '' ? 'Design without a name' : name;
  return (
    `${title}\n${mat.rows} × ${mat.columns}, ${WINDING_WORDS[winding.kind]}; ` +
    `selected core row ${selected.row}, column ${selected.column}, holding ${selected.bit === 1 ? 'ONE' : 'ZERO'}; ` +
    `a cycle every ${formatPeriod(cycle.period)}\n`
  );
}
