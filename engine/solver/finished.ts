import type { Outcome, Simulation } from './result.ts';

/** A run that cannot be used: `code` is how it ended; the message says which, why, and what to do about it. */
export class UnusableRun extends Error {
  override readonly name: string = 'UnusableRun';
  readonly code: Outcome['kind'];

  /** @param of which run it was, where there are several */
  constructor(outcome: Outcome, of?: string) {
    const why = outcome.kind === 'done' ? '' : outcome.advice;
    super(of === undefined ? why : `${of} (${outcome.kind})${why === '' ? '' : `: ${why}`}`);
    this.code = outcome.kind;
  }
}

/** The run, where it can be used. @throws UnusableRun where it was cancelled or went wrong */
export function finished(run: Simulation, of?: string): Simulation {
  if (run.outcome.kind !== 'done') throw new UnusableRun(run.outcome, of);
  return run;
}
