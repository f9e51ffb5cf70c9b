import { differingInputs, pointerWords, type RawDesign } from './pointer.ts';

/** "drive › x › rise has changed since", "drive › x › rise and 3 more have changed since"; undefined: nothing has. */
export function changedSince(then: RawDesign, now: RawDesign): string | undefined {
  const [first, ...others] = differingInputs([then, now]);
  if (first === undefined) return undefined;
  if (others.length === 0) return `${pointerWords(first)} has changed since`;
  return `${pointerWords(first)} and ${others.length} more have changed since`;
}
