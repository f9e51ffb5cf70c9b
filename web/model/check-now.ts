import { checkDesign } from '../../engine/check/check-design.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import type { Checked } from './checked.ts';
import type { RawDesign } from './pointer.ts';

/** The design as checked, or what is wrong with it. Half of the page's scripts hang on this file: it is fetched late. */
export function checkNow(raw: RawDesign): Checked {
  try {
    return { design: checkDesign(raw), faults: [] };
  } catch (error) {
    if (error instanceof DesignError) return { design: undefined, faults: error.problems };
    throw error;
  }
}
