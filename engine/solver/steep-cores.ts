import type { CoreClasses } from '../network/core-classes.ts';
import type { CoreState, DriveFactors } from './core-state.ts';
import type { CoreStep } from './core-step.ts';
import type { Difference } from './difference.ts';
import { holdIdle } from './idle-group.ts';
import { findMoving, moveMain } from './move-classes.ts';
import type { SectionSums } from './section-sums.ts';
import { sumCores } from './sum-cores.ts';

/** Cores of a step that is tried more than once: how they stood before it, and how steeply those answer that move. */
export interface StepTrial {
  readonly phi: Float64Array;
  readonly psi: Float64Array;
  readonly rings: Float64Array;
  /** Of the moving classes in their order: Wb after a step at a little more drive, then H (addSteepness). */
  readonly beside: Float64Array;
  /** s: the length of the step two before (Difference.hOld before predict). */
  hOlder: number;
}

export const makeStepTrial = ({ size }: CoreClasses, { rings }: CoreState): StepTrial => ({
  phi: new Float64Array(size),
  psi: new Float64Array(size),
  rings: new Float64Array(rings.length),
  beside: new Float64Array(size),
  hOlder: 0,
});

/** To be called before the step is predicted. */
export function keepCores(trial: StepTrial, { state, difference }: Kept): void {
  trial.phi.set(state.phi);
  trial.psi.set(state.psi);
  trial.rings.set(state.rings);
  trial.hOlder = difference.hOld;
}

interface Kept {
  readonly state: CoreState;
  readonly difference: Difference;
}

export function takeBack(trial: StepTrial, { phi, psi, rings }: CoreState): void {
  phi.set(trial.phi);
  psi.set(trial.psi);
  rings.set(trial.rings);
}

/** Of the knee's width: by so much more drive the steepness of a core is taken. */
const NUDGE = 1e-3;

/** Moves every core through the step from where it stood before it, and sums; `steep`: with their steepness in the slopes. */
export function tryCores(
  trial: StepTrial,
  classes: CoreClasses,
  state: CoreState,
  factors: DriveFactors,
  step: CoreStep,
  sums: SectionSums,
  steep: boolean,
): void {
  takeBack(trial, state);
  holdIdle(state, step);
  const count = findMoving(classes, state, step);
  if (steep) {
    moveBeside(trial, classes, state, step, count);
    // The decaying parts have been moved already.
    state.phi.set(trial.phi);
    state.rings.set(trial.rings);
  }
  moveMain(classes, state, count, step);
  sumCores(state, step, sums);
  if (steep) addSteepness(trial, classes, state, factors, sums, count);
}

const nudgeOf = (classes: CoreClasses, c: number, F: number): number =>
  NUDGE * classes.kneeWidth[c]! * (F < 0 ? -1 : 1);

/** Where the moving classes come to under a little more drive. */
function moveBeside(
  { beside }: StepTrial,
  classes: CoreClasses,
  state: CoreState,
  step: CoreStep,
  count: number,
): void {
  const { moving, drives, phi } = state;
  for (let m = 0; m < count; m++) drives[m]! += nudgeOf(classes, moving[m]!, drives[m]!);
  moveMain(classes, state, count, step);
  for (let m = 0; m < count; m++) {
    beside[m] = phi[moving[m]!]!;
    drives[m]! -= nudgeOf(classes, moving[m]!, drives[m]!);
  }
}

/**
 * Adds to the slopes, which have the elastic part already, how what has moved answers a current at the end of the step: F at
 * mid-step being half the change of that current, for s = 1
 *
 *     d lambda/d i = dphi1/dF (1 - b/phi_r g(F)) / 2,      H
 *
 * by the difference of two steps, which asks nothing of the core's equation. The decaying part, of a tenth the steepness, is
 * left to the next try.
 */
function addSteepness(
  { beside }: StepTrial,
  classes: CoreClasses,
  { moving, drives, phi }: CoreState,
  factors: DriveFactors,
  sums: SectionSums,
  count: number,
): void {
  const { slopes } = sums;
  for (let m = 0; m < count; m++) {
    const c = moving[m]!;
    const F = drives[m]!;
    const fe = classes.bend[c]!;
    const left = 1 - classes.elasticB[c]! * (Math.hypot(F, fe) - fe);
    const steepness = ((beside[m]! - phi[c]!) / nudgeOf(classes, c, F) / 2) * left;
    const slope = classes.count[c]! * steepness;
    const x = factors.x[c]!;
    const y = factors.y[c]!;
    const inhibit = factors.inhibit[c]!;
    const s = classes.polarity[c]!;
    const slot = factors.role[c]! * sums.stride + classes.section[c]!;
    sums.own[slot]! += slope;
    sums.x[slot]! += x * s * slope;
    sums.y[slot]! += y * s * slope;
    sums.inhibit[slot]! += inhibit * s * slope;
    slopes.xx += x * slope;
    slopes.yy += y * slope;
    slopes.xy += x * y * slope;
    slopes.xInhibit += x * inhibit * slope;
    slopes.yInhibit += y * inhibit * slope;
  }
}
