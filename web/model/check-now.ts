import { checkDesign } from '../../engine/check/check-design.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import type { Design } from '../../engine/design/design.ts';
import type { RawDesign } from './pointer.ts';

/** A fault of the design as typed, to be shown beside the field it names. */
export interface FieldFault {
  readonly field: string;
  readonly message: string;
}

interface Checked {
  readonly design: Design | undefined;
  readonly faults: readonly FieldFault[];
}

const checkedBefore = new WeakMap<RawDesign, Checked>();

/** The design as checked, or what is wrong with it. */
export function checkNow(raw: RawDesign): Checked {
  const known = checkedBefore.get(raw) ?? check(raw);
  checkedBefore.set(raw, known);
  return known;
}

function check(raw: RawDesign): Checked {
  try {
    return { design: checkDesign(raw), faults: [] };
  } catch (error) {
    if (error instanceof DesignError) return { design: undefined, faults: error.problems };
    throw error;
  }
}
