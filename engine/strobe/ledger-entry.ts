import type { AssumedField } from '../estimates/assumed-fields.ts';

/**
 * What decides the answer and was not given: every field that a file left to its default, to the geometry of its wires or
 * to a preset, with what one honest range of it does to the margin.
 */
export interface LedgerEntry extends AssumedField {
  /** V: the margin at both ends, strobe and threshold as they are. */
  readonly marginLow: number;
  readonly marginHigh: number;
}
