import type { Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { simulate } from '../../simulate/simulate.ts';
import type { Simulation } from '../../solver/result.ts';
import { createRuns } from '../bench-runs.ts';
import { compareCapture } from '../compare.ts';
import type { Comparison } from '../comparison.ts';
import { designOf, noPrediction, placeCapture, type FitCapture } from '../fit-captures.ts';
import type { LineUp } from './line-up.ts';

/** One capture lined up with what a design file predicts under its conditions, and laid over it. */
export interface Overlay {
  readonly design: Design;
  /** Observed to the end of the capture, with its contributions. */
  readonly run: Simulation;
  readonly lineUp: LineUp;
  readonly comparison: Comparison;
}

/** Throws DesignError, LineUpError or FitError. */
export function overlayCapture(file: Json, capture: FitCapture): Overlay {
  const design = designOf(file, capture);
  const runs = createRuns(simulate, 1, {});
  const { line, until } = placeCapture(design, capture, runs);
  const run = runs.need(design, noPrediction(capture), { contributions: true, until });
  return {
    design,
    run,
    lineUp: line,
    comparison: compareCapture(run, capture.trace, line, capture.observed),
  };
}
