import type { UnknownName } from '../unknown-table.ts';

/** A parameter as it is known after a fit. */
export interface KnownParameter {
  readonly name: UnknownName;
  /** SI. */
  readonly value: number;
  /** True: the covariance is that of its logarithm. */
  readonly logarithmic: boolean;
  /** False: it was not asked for, but is uncertain and was let go within its range. */
  readonly asked: boolean;
}

/** Under which conditions a capture was taken: predictions far from all of them are said to be. SI. */
export interface MeasuredAt {
  readonly label: string;
  /** A: X and Y together in the read. */
  readonly drive: number;
  /** s. */
  readonly rise: number;
  /** °C. */
  readonly temperature: number;
  /** Cores on the wire. */
  readonly cores: number;
  readonly winding: string;
}

/** What captures have taught, as one normal distribution over parameters and departures of the model. */
export interface Knowledge {
  readonly parameters: readonly KnownParameter[];
  /** Coefficients of departures (1: one standard deviation of what was thought possible). */
  readonly departures: readonly { readonly code: string; readonly value: number }[];
  /** Row by row, parameters first, then departures. */
  readonly covariance: readonly (readonly number[])[];
  readonly measured: readonly MeasuredAt[];
}
