import { offLanding, type DriveLine } from './drive-line.ts';
import { solveStep } from './settle-guess.ts';
import { takeBack, type StepTrial } from './steep-cores.ts';
import type { StepContext } from './step-context.ts';
import { predict } from './take-step.ts';

/** How a step stands among those before and after it, as predict asks for it. */
export interface StepPlace {
  readonly hOld: number;
  readonly sinceJump: number;
  readonly jumpNext: boolean;
}

/** Tries at most for the instant at which a current lands, and the share of the step that it may miss. */
const MAX_TRIES = 8;
const ON_TIME = 1e-4;
/** Of the step: currents that land no further apart land together. */
const TOGETHER = 1e-2;

/**
 * A current that lands within the step (landsAt), or was expected to and does not yet, makes its end the instant at which it
 * does, `latest` at most: by the rule of false position from the start of the step, at which the current was so far off, and
 * its end, at which it would be so far past. Foreseen from two values alone the instant was wrong by up to a nanosecond, by
 * another amount in every run, and the kink with it: tens of millivolts through the coupling.
 */
export function settleLanding(step: StepContext, trial: StepTrial, latest: number, place: StepPlace): void {
  const { lineX, lineY, from } = step;
  const again = (): void => {
    takeBack(trial, step.state);
    step.difference.hOld = trial.hOlder;
    predict(step, place.hOld, place.sinceJump, place.jumpNext);
    solveStep(step);
  };
  if (place.hOld === 0) {
    // Through the ferrite's loss a current may die at the very slope jump; the clamp then never gets hold of it.
    const dying = [lineX, lineY].filter((line) => line.landed && line.pull === 0);
    for (const line of dying) line.opens = true;
    if (dying.length > 0) again();
    return;
  }
  for (let n = 0; n < MAX_TRIES; n++) {
    const shareX = landingShare(lineX, from, step.to);
    const shareY = landingShare(lineY, from, step.to);
    const share = Math.min(shareX, shareY);
    if (share === Infinity || Math.abs(share - 1) < ON_TIME) return;
    const whole = latest - from;
    const to = from + Math.max(share * (step.to - from), TOGETHER * whole);
    const ends = to < latest - TOGETHER * whole;
    if (!ends && step.to === latest) return;
    step.to = ends ? to : latest;
    lineX.landing = ends && shareX - share < TOGETHER;
    lineY.landing = ends && shareY - share < TOGETHER;
    again();
  }
}

/** Where in the step a current lands, as a share of it; Infinity: it does not, or may not end the step. */
function landingShare(line: DriveLine, from: number, to: number): number {
  if (!line.landed || line.landings <= 0) return Infinity;
  const start = offLanding(line, line.current, from);
  const share = start / (start - offLanding(line, line.free, to));
  return share > 0 ? share : Infinity;
}
