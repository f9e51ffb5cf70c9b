import type { Outcome } from '../solver/result.ts';
import type { Recording } from '../solver/run-problem.ts';

/**
 * Of what the sources give, as much may be missing in the account at the end. Runs of random designs leave a
 * ten-thousandth, few a thousandth (test/bench/limits.md); one that leaves a hundredth has a loop that its steps do not
 * follow, and its voltages mean nothing.
 */
const MAX_UNACCOUNTED = 0.01;

/** J: less than this no drive spends on a core (one nanohenry at 50 mA), so that it says nothing. */
const NEXT_TO_NOTHING = 1e-12;

/** How a run ended, from what was recorded of it. */
export function outcomeOf(run: Recording): Outcome {
  if (run.cancelledAt !== undefined)
    return {
      kind: 'cancelled',
      time: run.cancelledAt,
      advice: 'The run was cancelled; start it again to complete it.',
    };
  if (run.failedAt !== undefined)
    return {
      kind: 'not-finite',
      time: run.failedAt,
      advice:
        'The solution left the range of numbers; try a smaller numerics.step or less extreme wire values.',
    };
  const { residual, delivered } = run.energy;
  if (Math.abs(residual) > MAX_UNACCOUNTED * Math.max(delivered, NEXT_TO_NOTHING))
    return {
      kind: 'not-settled',
      time: run.time.at(-1)!,
      advice: `Of the energy that the sources gave, ${((100 * Math.abs(residual)) / delivered).toPrecision(3)} % is not accounted for, where 1 % may be: its voltages are not to be used. Give numerics.step a smaller value, or the drive lines more resistance or inductance.`,
    };
  return { kind: 'done' };
}
