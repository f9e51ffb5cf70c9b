import { offLanding, type DriveLine } from './drive-line.ts';
import { predict } from './predict.ts';
import { settleGuess } from './settle-guess.ts';
import type { StepContext } from './step-context.ts';

/** Tries at most for the instant at which a current lands, and the share of the step that it may miss. */
const MAX_TRIES = 6;
const ON_TIME = 1e-4;
/** Of the step: currents that land no further apart land together. */
const TOGETHER = 1e-3;

/**
 * A current that lands within the step (landsAt) makes its end the instant at which it does: by the rule of false position
 * from the start of the step, at which the current was so far off, and its end, at which it would be so far past.
 */
export function settleLanding(step: StepContext): boolean {
  const { lineX, lineY, from } = step;
  const latest = step.to;
  let settled = true;
  for (let n = 0; n < MAX_TRIES; n++) {
    const shareX = landingShare(lineX, from, step.to);
    const shareY = landingShare(lineY, from, step.to);
    const share = Math.min(shareX, shareY);
    if (share === Infinity || Math.abs(share - 1) < ON_TIME) break;
    const to = Math.min(latest, from + Math.max(share * (step.to - from), TOGETHER * (latest - from)));
    if (to === step.to) break;
    step.to = to;
    lineX.landing = shareX - share < TOGETHER;
    lineY.landing = shareY - share < TOGETHER;
    predict(step);
    settled = settleGuess(step);
  }
  return settled;
}

/** Where in the step a current lands, as a share of it; Infinity: it does not, or may not end the step. */
function landingShare(line: DriveLine, from: number, to: number): number {
  if (!line.landed || line.landings <= 0) return Infinity;
  const start = offLanding(line, line.current, from);
  const share = start / (start - offLanding(line, line.free, to));
  return share > 0 ? share : Infinity;
}
