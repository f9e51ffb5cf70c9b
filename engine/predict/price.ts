import { CORE_PROPERTIES } from '../design/schema/core.ts';
import { WINDOW_RUNS } from '../estimates/cost.ts';
import { ENDS_CHECKED, LOOKS_AT_ENDS } from './check-ends.ts';

/** Directions that no fit has told at most: core, its readings, how the selected one differs, fields of wires and edges, strays of the peak. */
const OPEN = CORE_PROPERTIES.length + 15;
/** Cases that stand for an ensemble at most: own, at the strobe, at both edges, at the corners; two cycles each. */
const CASES = 2 * 10;
/** Designs at the ends of intervals, and the one itself. */
const ENDS = ENDS_CHECKED + 1;

/** Captures of the mat among what could be measured next, at most (next/candidates.ts). */
export const MAT_CANDIDATES = 9;

/** Runs of a whole cycle that a prediction comes to at most: of the design, and of each capture's. */
export function predictionRuns(values: number): { readonly design: number; readonly capture: number } {
  const designs = 2 * (values + OPEN) + ENDS;
  return { design: WINDOW_RUNS + CASES * designs, capture: designs + LOOKS_AT_ENDS };
}
