import type { Contribution } from '../network/causes.ts';

/** A capture over its prediction. Arrays are over the capture's samples that the prediction covers. */
export interface Comparison {
  /** s from the start of read. */
  readonly time: Float64Array;
  /** V, brought to the prediction's scale: (measured - offset) / gain. */
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
  /** measured - predicted, V. */
  readonly difference: Float64Array;
  /** V, of one sample of `measured`, from the capture itself. */
  readonly noise: number;
  /** V rms of the difference. */
  readonly rms: number;
  /** Mean square of the difference over the noise's; about 1 when the noise explains it all. */
  readonly reducedChiSquare: number;
  /** Correlation of neighbouring differences; near 0 when only noise is left. */
  readonly neighbourCorrelation: number;
  readonly verdict: 'noise alone' | 'close' | 'poor';
  /** One sentence. */
  readonly statement: string;
  /** How much each cause, or a shift in time, would have to change to remove the difference; best first. */
  readonly misfitLooksLike: readonly MisfitCause[];
}

export interface MisfitCause {
  readonly cause: Contribution | 'later';
  /** Relative change of that contribution (0.1: a tenth more), or for 'later' the shift in s. */
  readonly change: number;
  /** Share of the difference's mean square that this change alone would remove, 0..1. */
  readonly share: number;
}
