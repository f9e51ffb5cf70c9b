import { formatFigure, formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Design } from '../../../engine/design/design.ts';
import type { CoreShares } from '../../../engine/solver/result.ts';
import type { Core } from '../../state/atoms.ts';

const volts = (value: number): string => formatFigure(value, 'V', 3);

export const HOLDS_KEY =
  'Filled: holds a ONE. Open: ZERO. Tilt: polarity on the wire. Heavy: half-selected. Boxed: read. Dotted: the sense wire.';

/** The same of a mat too fine for rings. */
export const FINE_HOLDS_KEY =
  'Dark cells hold a ONE, light ones a ZERO; tinted along the two lines: half-selected. Boxed: read.';

/** "gives −34.4 mV at 166.9 ns." */
export function givesText({ mat }: Design, { row, column }: Core, { emf, time }: CoreShares): string {
  return `gives ${volts(emf[row * mat.columns + column] ?? 0)} at ${formatQuantity(time, 's', 4)}.`;
}

/** `at`: s, the instant wanted; an older picture says so. `fine`: of a mat drawn in cells, without its wire. */
export function sharesText({ emf, time }: CoreShares, at: number, fine: boolean): string {
  const all = emf.reduce((sum, value) => sum + value, 0);
  const most = emf.reduce((size, value) => Math.max(size, Math.abs(value)), 0);
  const following = Math.abs(time - at) > 1e-12 ? ', following the clock' : '';
  if (fine)
    return (
      `Cells: what each core gives at ${formatQuantity(time, 's', 4)}${following}, the strongest ${volts(most)}, ` +
      `${volts(all)} all together; a pointer on a cell tells its size and sign. The mat is too large for rings and its wire.`
    );
  return (
    `Rings: what each core gives at ${formatQuantity(time, 's', 4)}${following}; solid adds, broken takes away, heaviest ${volts(most)}, ` +
    `${volts(all)} all together. Wire: over and under as threaded, with its sum from end A.`
  );
}

/** What a core holds, how it is driven and how it lies on the wire. */
export function coreText(
  { mat, selected }: Design,
  { row, column }: Core,
  bits: Uint8Array,
  polarity: Int8Array,
): string {
  const index = row * mat.columns + column;
  const [onRow, onColumn] = [row === selected.row, column === selected.column];
  const half = onRow ? 'half-selected by X' : onColumn ? 'half-selected by Y' : 'not selected';
  const driven = onRow && onColumn ? 'selected' : half;
  return `Row ${row}, column ${column}: holds a ${bits[index] === 1 ? 'ONE' : 'ZERO'}, ${driven}, polarity ${(polarity[index] ?? 1) > 0 ? '+1' : '−1'}.`;
}

/** Every core of the mat as a row of a table. */
export function matColumns(
  { mat, selected }: Design,
  bits: Uint8Array,
  polarity: Int8Array,
  shares: CoreShares | undefined,
) {
  const index = Array.from(bits, (_, i) => i);
  const rowOf = (i: number) => Math.floor(i / mat.columns);
  const columnOf = (i: number) => i % mat.columns;
  const drivenBy = (i: number): string =>
    ['none', 'X', 'Y', 'X and Y'][
      Number(rowOf(i) === selected.row) + 2 * Number(columnOf(i) === selected.column)
    ]!;
  return [
    { title: 'row', values: index.map(rowOf) },
    { title: 'column', values: index.map(columnOf) },
    { title: 'bit', values: bits },
    { title: 'polarity', values: polarity },
    { title: 'driven by', values: index.map(drivenBy) },
    ...(shares ? [{ title: `gives at ${formatQuantity(shares.time, 's', 4)} / V`, values: shares.emf }] : []),
  ];
}
