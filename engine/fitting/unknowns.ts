import { writeQuantity } from '../base/format-quantity.ts';
import { applyPatches, valueAt, type Json } from '../base/json-patch.ts';
import type { Design } from '../design/design.ts';
import { UNKNOWNS, type UnknownKind, type UnknownName } from './unknown-table.ts';

/** Number at a pointer of a checked design. */
export const numberAt = (design: Design, field: string): number => valueAt(design, field) as number;

/** Where a fit starts and how far it may go, SI. */
export interface UnknownRange {
  readonly start: number;
  readonly low: number;
  readonly high: number;
  /** A size > 0 by which steps are scaled. */
  readonly typical: number;
}

/** The range that a design gives an unknown; undefined when it has no finite number there. */
export function rangeOf(design: Design, name: UnknownName): UnknownRange | undefined {
  const found: UnknownKind = UNKNOWNS[name];
  const value = numberAt(design, found.fields[0]);
  if (!Number.isFinite(value)) return undefined;
  const most = found.most ?? Infinity;
  if (value === 0)
    return { start: 0, low: 0, high: Math.min(most, found.typical * 100), typical: found.typical };
  const ends = [value * found.low, value * found.high];
  const high = Math.min(most, Math.max(...ends));
  return { start: value, low: Math.min(...ends), high, typical: Math.abs(value) };
}

/** Every field of an unknown at a value of its first one; the others keep their ratio to it. */
function fieldValues(start: Design, name: UnknownName, value: number): [string, number][] {
  const { fields }: UnknownKind = UNKNOWNS[name];
  const first = numberAt(start, fields[0]);
  return fields.map((field) => [field, first === 0 ? value : (numberAt(start, field) / first) * value]);
}

/** A checked design with other values; bounds of the unknowns keep it sane, so it is not checked again. */
export function withValues(start: Design, names: readonly UnknownName[], values: ArrayLike<number>): Design {
  const patches = names.flatMap((name, i) =>
    fieldValues(start, name, values[i]).map(([path, value]) => ({ path, value })),
  );
  return applyPatches(start as unknown as Json, patches) as unknown as Design;
}

/** The design file with those values written into it, exact to the last digit. */
export function writeValues(
  file: Json,
  start: Design,
  names: readonly UnknownName[],
  values: ArrayLike<number>,
): Json {
  const patches = names.flatMap((name, i) =>
    fieldValues(start, name, values[i]).map(([path, value]) => ({
      path,
      value: UNKNOWNS[name].unit === '1' ? value : writeQuantity(value, UNKNOWNS[name].unit),
    })),
  );
  return applyPatches(file, patches);
}
