import { FOLLOWED } from './diagnosis/diagnose.ts';
import { screeningRuns } from './diagnosis/faults.ts';
import { HALVINGS } from './diagnosis/fit-fault.ts';
import { LEEWAY_RUNS } from './diagnosis/leeway.ts';
import { pairRuns } from './diagnosis/pairs.ts';
import { FIT_STAGES, STAGE_ITERATIONS } from './fit-design.ts';
import { SHAPE_RUNS } from './fit-shapes.ts';
import { FOLLOWED as HIDDEN } from './knowledge/beliefs.ts';

/** Trials of a step that an iteration takes at most on average: one that is refused is tried shorter. */
const TRIALS = 4;
/** Runs at the start, between two stages and at the end. */
const AROUND = 3;

/** Runs that a fit takes for each of its captures, from above: differences and trials of all stages, and shapes between them. */
export function fitRuns(unknowns: number, iterations: number): number {
  const followed = unknowns + HIDDEN.size + TRIALS;
  const steps = 2 * iterations + FIT_STAGES * STAGE_ITERATIONS;
  return steps * followed + (FIT_STAGES + 1) * (SHAPE_RUNS + AROUND);
}

/** Runs that a diagnosis takes for each of its captures, from above: every fault in several degrees, the likeliest followed, and pairs. */
export function diagnosisRuns(): number {
  return 1 + LEEWAY_RUNS + screeningRuns() + FOLLOWED * 2 * HALVINGS + pairRuns();
}
