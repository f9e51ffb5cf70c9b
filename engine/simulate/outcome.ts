import type { Outcome } from '../solver/result.ts';
import type { Recording } from '../solver/run-problem.ts';

/**
 * Of what the sources give, as much may be missing in the account at the end. Runs of random designs leave a ten-thousandth;
 * one that leaves a hundredth has a loop that its steps do not follow, and its voltages mean nothing.
 */
const MAX_UNACCOUNTED = 0.01;

const FINER = 'Give numerics.step a smaller value, or the drive lines more resistance or inductance.';

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
  if (run.unsettledAt !== undefined)
    return {
      kind: 'not-settled',
      time: run.unsettledAt,
      advice: `The currents of a loop through steep cores could not be found. ${FINER}`,
    };
  const { residual, delivered } = run.energy;
  if (Math.abs(residual) > MAX_UNACCOUNTED * delivered)
    return {
      kind: 'not-settled',
      time: run.time.at(-1)!,
      advice: `The account of the run's energy does not close: ${((100 * Math.abs(residual)) / delivered).toPrecision(2)} % of what the sources gave is missing. ${FINER}`,
    };
  return { kind: 'done' };
}
