import type { LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import type { BenchRuns } from './bench-runs.ts';
import type { FitModel } from './fit-problem.ts';
import type { FitRequest } from './fit-result.ts';
import type { HiddenUnknown } from './knowledge/beliefs.ts';

/** A fit that has ended, with all that its report needs. */
export interface EndedFit {
  readonly request: FitRequest;
  readonly model: FitModel;
  readonly hidden: readonly HiddenUnknown[];
  /**
   * Values of the asked unknowns with all else as the design says, where that leaves noise alone: what was not asked
   * for then stays as it was, and only the intervals know that it may be otherwise.
   */
  readonly plain: Float64Array | undefined;
  /** As counted inside the fit, where the model was not let depart: asked unknowns, then extras; undefined: it was not let at all. */
  readonly rough: Float64Array | undefined;
  readonly fit: LeastSquaresFit;
  readonly runs: BenchRuns;
}
