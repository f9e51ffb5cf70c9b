import type { Json, Patch } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import type { WindingKind } from '../../design/mat.ts';

/**
 * Another size keeps the selected core at the same fraction of rows and columns, and the parts into which the wire is cut
 * where the winding can be; what names single cores is dropped.
 */
export function matPatches(
  raw: Json,
  design: Design,
  rows: number,
  columns: number,
  kind: WindingKind,
): Patch[] {
  const { mat, selected } = design;
  const { segments } = design.winding;
  const stored = (raw as { stored?: { kind?: string } }).stored?.kind;
  return [
    { path: '/mat/rows', value: rows },
    { path: '/mat/columns', value: columns },
    { path: '/winding', value: { kind, ...(kind === 'shared-two-halves' ? {} : { segments }) } },
    { path: '/selected/row', value: Math.floor((selected.row * rows) / mat.rows) },
    { path: '/selected/column', value: Math.floor((selected.column * columns) / mat.columns) },
    { path: '/programme' },
    { path: '/exceptions' },
    ...(stored === 'custom' ? [{ path: '/stored' }] : []),
  ];
}
