import type { AssumedField } from '../estimates/assumed-fields.ts';
import type { StrobeUncertainties } from './envelope.ts';

/** Least ONE and greatest ZERO of the cases that decide, with one field at an end of its range. */
export interface EndTraces {
  readonly one: Float64Array;
  readonly zero: Float64Array;
  readonly uncertainties: StrobeUncertainties;
}

export interface LedgerRun extends AssumedField {
  readonly ends: readonly [EndTraces, EndTraces];
}
