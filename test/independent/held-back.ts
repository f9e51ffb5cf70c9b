import { applyPatches } from '../../engine/base/json-patch.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import { knowledgeOf } from '../../engine/predict/knowledge.ts';
import { predict } from '../../engine/predict/predict.ts';
import { bellWithin, topOfBell } from '../../engine/predict/top-of-bell.ts';
import { BOARD, build } from './builds.ts';
import { runTruth } from './memory.ts';
import { drivenBy, type OffFamily } from './off-family.ts';
import { truthOf } from './truth.ts';

/** A of X and of Y: more than any capture of such a build was taken at. */
const HELD_BACK = 0.425;

/** Does the product's own prediction at that drive hold the peak that such a build really gives there? */
export function holdsHeldBack(
  { changes, departure }: OffFamily,
  { fit, captures }: { readonly fit: FitResult; readonly captures: readonly FitCapture[] },
): boolean {
  const told = predict({ known: knowledgeOf(fit, captures), changes: drivenBy(HELD_BACK) });
  const truth = truthOf(build(applyPatches(BOARD, changes), drivenBy(HELD_BACK)), departure);
  const { sense, step } = runTruth(truth, { until: told.design.cycle.readWidth });
  const { peak } = topOfBell(
    sense.map((_, i) => i * step),
    sense,
    bellWithin(told.design),
  );
  return told.peak.low <= peak && peak <= told.peak.high;
}
