import { checkDesign } from '../../engine/check/check-design.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import { designToJson } from '../../engine/design/design-to-json.ts';
import type { Design } from '../../engine/design/design.ts';
import { applyOverrides } from '../../engine/strobe/case-overrides.ts';
import type { CaseOverrides } from '../../engine/strobe/case-overrides.ts';
import { differences, rawAt, withValueAt, type RawDesign } from './pointer.ts';

/**
 * The design as typed with one case of it opened: the parts that the case sets are written out, all else stays as
 * typed. A programme that follows from the address by itself is left out again.
 */
export function openCase(raw: RawDesign, design: Design, overrides: CaseOverrides): RawDesign {
  const wanted = designToJson(applyOverrides(design, overrides)) as RawDesign;
  const opened = Object.keys(overrides).reduce<RawDesign>(
    (all, part) => withValueAt(all, `/${part}`, wanted[part]),
    raw,
  );
  if (overrides.programme === undefined) return opened;
  const without = withValueAt(opened, '/programme', undefined);
  return differences(programmeOf(without), wanted['programme']).length === 0 ? without : opened;
}

/** The programme that a design as typed leads to; undefined where it is refused. */
function programmeOf(raw: RawDesign): unknown {
  try {
    return (designToJson(checkDesign(raw)) as RawDesign)['programme'];
  } catch (error) {
    if (error instanceof DesignError) return undefined;
    throw error;
  }
}

/** The design as typed with those values replaced in which a changed design differs from the one it was made of. */
export function applyDifferences(raw: RawDesign, from: Design, to: Design): RawDesign {
  const [before, after] = [designToJson(from) as RawDesign, designToJson(to) as RawDesign];
  if (from.winding.kind !== to.winding.kind) return withValueAt(raw, '/winding', after['winding']);
  return differences(before, after).reduce(
    (all, pointer) => withValueAt(all, pointer, rawAt(after, pointer)),
    raw,
  );
}
