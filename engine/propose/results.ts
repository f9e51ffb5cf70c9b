import type { Combination } from './combinations.ts';
import type { JobResult } from './jobs.ts';
import type { Proved } from './prove.ts';

/** Combinations that differ in their mat alone: the better mat stands for both. */
export const kindOf = ({ winding, core, amplifiers }: Combination): string =>
  `${winding} ${core} ${amplifiers}`;

/** What was found, best first; of like value that which was tried first. */
export function found(results: readonly JobResult[], step?: 'try' | 'refine'): readonly Proved[] {
  return results
    .flatMap((result) =>
      result.step === 'relax' ||
      result.step === 'move' ||
      (step !== undefined && result.step !== step) ||
      result.found === null
        ? []
        : [result.found],
    )
    .sort((a, b) => b.value - a.value);
}

/** Builds whose own window says that they do all that is asked for. */
export const provedOf = (results: readonly JobResult[]): readonly Proved[] =>
  found(results, 'refine').filter(
    ({ proof, binding }) =>
      proof?.verdict.design === 'reads' && binding.every(({ excess }) => excess <= 1e-9),
  );

/** What came nearest to all that is asked for; of those searched in earnest, where there are any. */
export function nearest(results: readonly JobResult[]): Proved | undefined {
  return found(results, 'refine')[0] ?? found(results, 'try')[0];
}
