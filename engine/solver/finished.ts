import type { Simulation } from './result.ts';

/** The run, where it can be used; throws an Error with its advice where it was cancelled or went wrong. */
export function finished(run: Simulation): Simulation {
  if (run.outcome.kind !== 'done') throw new Error(run.outcome.advice);
  return run;
}
