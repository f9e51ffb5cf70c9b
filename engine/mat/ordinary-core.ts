import type { CoreException } from '../design/core.ts';

/** A core like all the others, as an exception in which something may then be changed. */
export const ordinaryCore = (row: number, column: number): CoreException => ({
  row,
  column,
  missing: false,
  reversed: false,
  fluxFactor: 1,
  thresholdFactor: 1,
  bias: 0,
});
