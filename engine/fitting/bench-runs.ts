import type { Design } from '../design/design.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';

export type Simulate = (design: Design, options?: SimulateOptions) => Simulation;

/** How far a fit or a diagnosis has come. */
export interface BenchProgress {
  /** Iterations begun, or faults done. */
  readonly done: number;
  /** Iterations at most (a fit may end sooner), or faults to try. */
  readonly planned: number;
  /** Runs of the model so far. */
  readonly runs: number;
}

/** A fit or diagnosis that cannot be tried: one sentence; `field` is a JSON pointer into the request. */
export class FitError extends Error {
  override readonly name: string = 'FitError';
  readonly code: string = 'fit';
  /** JSON pointer into the request. */
  readonly field: string;
  constructor(field: string, message: string) {
    super(message);
    this.field = field;
  }
}

/** Thrown when `cancelled` says so: nothing half is given back. */
export class FitCancelled extends FitError {
  override readonly name = 'FitCancelled';
  override readonly code = 'cancelled';
  constructor() {
    super('', 'The work was cancelled before it was done; nothing of it is kept.');
  }
}

interface BenchRunOptions {
  readonly contributions?: boolean;
  readonly until?: number;
}

interface Refused {
  /** JSON pointer into the request. */
  readonly field: '/design' | '/unknowns';
  /** What there is not, without a full stop. */
  readonly what: string;
}

/** Runs of one fit or diagnosis, counted, and ended from within a run when it is cancelled. */
export interface BenchRuns {
  /** Undefined where the run cannot be used. Throws FitCancelled. */
  run(design: Design, options?: BenchRunOptions): Simulation | undefined;
  /** A run without which there is no answer. Throws FitCancelled; FitError, of `field`, that `refused` and says why. */
  need(design: Design, refused: Refused, options?: BenchRunOptions): Simulation;
  /** Tells how far the work has come. Throws FitCancelled. */
  advance(done: number): void;
  readonly count: number;
}

/** @param finer as in SimulateOptions */
export function createRuns(
  simulate: Simulate,
  planned: number,
  { cancelled, onProgress }: BenchControl,
  finer = 1,
): BenchRuns {
  let [count, done] = [0, 0];
  const poll = (): void => {
    if (cancelled?.()) throw new FitCancelled();
  };
  onProgress?.({ done, planned, runs: count });
  const tried = (design: Design, { contributions = false, until }: BenchRunOptions): Simulation => {
    poll();
    const result = simulate(design, {
      contributions,
      estimateError: false,
      balance: false,
      finer,
      until,
      cancelled,
    });
    if (result.outcome.kind === 'cancelled') throw new FitCancelled();
    count++;
    onProgress?.({ done, planned, runs: count });
    return result;
  };
  return {
    get count() {
      return count;
    },
    run(design, options = {}) {
      const result = tried(design, options);
      return result.outcome.kind === 'done' ? result : undefined;
    },
    need(design, { field, what }, options = {}) {
      const result = tried(design, options);
      if (result.outcome.kind !== 'done') throw new FitError(field, `${what}: ${result.outcome.advice}`);
      return result;
    },
    advance(to) {
      poll();
      done = to;
      onProgress?.({ done, planned, runs: count });
    },
  };
}

/** What whoever asks for a fit or a diagnosis may do while it goes on. */
export interface BenchControl {
  /** Polled in every run; true ends the work with FitCancelled. */
  readonly cancelled?: () => boolean;
  readonly onProgress?: (progress: BenchProgress) => void;
}
