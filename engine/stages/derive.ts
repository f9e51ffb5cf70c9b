import { writeQuantity } from '../base/format-quantity.ts';
import { applyPatches, valueAt, type Json, type Patch } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';

/** Values of a drive line that hold its leads and mats: where a design states them, they follow by the difference. */
const OF_LINES = [
  { path: '/drive/x/resistance', unit: 'ohm' },
  { path: '/drive/y/resistance', unit: 'ohm' },
  { path: '/drive/x/inductance', unit: 'H' },
  { path: '/drive/y/inductance', unit: 'H' },
] as const;
/** A line is never less than this, in its own unit: what is stated may be less than what is taken off. */
const LEAST = 1e-9;

/**
 * A design with other leads, mats or cores. Resistance and inductance of the lines are worked out anew where the design
 * leaves them out; where it states them, what the geometry of the change makes of them is added.
 */
export function derived(design: Design, patches: readonly Patch[]): Design {
  const file = designToJson(design) as Json;
  const changed = applyPatches(file, patches);
  const stated = OF_LINES.filter(({ path }) => valueAt(file, path) !== undefined);
  if (stated.length === 0) return checkDesign(changed);
  const without = stated.map(({ path }) => ({ path }));
  const before = checkDesign(applyPatches(file, without));
  const after = checkDesign(applyPatches(changed, without));
  const at = (of: Design, path: string): number => valueAt(of, path) as number;
  return checkDesign(
    applyPatches(
      changed,
      stated.map(({ path, unit }) => {
        const value = at(design, path) + at(after, path) - at(before, path);
        return { path, value: writeQuantity(Math.max(LEAST, value), unit) };
      }),
    ),
  );
}
