import { constraints } from '../estimates/constraints.ts';
import type { Design } from '../design/design.ts';
import { putInWords } from './words.ts';
import type { DesignWarning } from './warning.ts';

/**
 * The constraints that a valid design does not keep to, in words: what `check` prints and the page shows beside the
 * cause. Each has the field to change, value and limit in SI with their unit, and a remedy. No run; does not throw.
 */
export const designWarnings = (design: Design): readonly DesignWarning[] =>
  constraints(design)
    .filter(({ excess }) => excess > 0)
    .map((broken) => {
      const { code, field, used, limit, unit } = broken;
      return { code, field, value: used, limit, unit, ...putInWords(broken) };
    });
