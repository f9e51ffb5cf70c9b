import type { CoreClasses } from '../network/core-classes.ts';
import { IDLE, WIDTH, type CoreState } from './core-state.ts';
import type { CoreStep } from './core-stepper.ts';
import { movePhi, movePsi } from './move-core.ts';
import { moveRings } from './move-rings.ts';
import type { StepContext } from './step-context.ts';

/**
 * Cores of a step that is tried more than once: how those stood that have moved, and how steeply what they link at its end
 * answers a current there. Only cores that move are kept.
 */
export interface StepTrial {
  /** Places in CoreState.order of the classes that have moved in this trial, and how many. */
  readonly moved: Int32Array;
  count: number;
  /** Their states before, by class (core-state.ts). */
  readonly phi: Float64Array;
  readonly psi: Float64Array;
  readonly rings: Float64Array;
  readonly stillBelow: Float64Array;
  readonly stillAbove: Float64Array;
  /** H: d(phi + psi + phi_el)/di at the end of the step through what has moved, by class. */
  readonly steepness: Float64Array;
}

export const makeStepTrial = ({ size }: CoreClasses, state: CoreState): StepTrial => ({
  moved: new Int32Array(size),
  count: 0,
  phi: new Float64Array(size),
  psi: new Float64Array(size),
  rings: new Float64Array(state.rings.length),
  stillBelow: new Float64Array(size),
  stillAbove: new Float64Array(size),
  steepness: new Float64Array(size),
});

/** Puts all cores back to where they stood before the trial. */
export function takeBack(trial: StepTrial, state: CoreState): void {
  for (let m = 0; m < trial.count; m++) restore(trial, state, state.order[trial.moved[m]!]!);
  forget(trial);
}

/** What has moved stays moved. */
export function forget(trial: StepTrial): void {
  trial.count = 0;
}

/** Of the knee's width: by so much more drive the steepness of a core is taken. */
const NUDGE = 1e-4;

/**
 * Moves every core through the step as advanceCores would and keeps how it stood. With `steep` its steepness is taken too:
 * F at mid-step being half the change of the current at the end, for s = 1
 *
 *     d lambda/d i = ( dphi1/dF (1 - b/phi_r g(F_end)) + dpsi1/dF ) / 2,      H
 *
 * by the difference of two steps, which asks nothing of the core's equation.
 */
export function moveCoresOnTrial(
  classes: CoreClasses,
  state: CoreState,
  step: CoreStep,
  trial: StepTrial,
  steep: boolean,
): void {
  const { order, constants, stillBelow, stillAbove } = state;
  const { from, section, idleFrom, idle } = state.runs;
  const { h, mid, midWire, end, endWire } = step;
  for (let run = 0; run < section.length; run++) {
    const k = section[run]!;
    const wireMid = midWire[k]!;
    const standing = Math.abs(wireMid) <= idle[run * IDLE]!;
    const to = standing ? idleFrom[run]! : from[run + 1]!;
    for (let j = from[run]!; j < to; j++) {
      const c = order[j]!;
      const i = j * WIDTH;
      const x = constants[i]!;
      const y = constants[i + 1]!;
      const inhibit = constants[i + 2]!;
      const s = constants[i + 3]!;
      const bias = constants[i + 4]!;
      const F = x * mid.x + y * mid.y + inhibit * mid.inhibit + s * wireMid + bias;
      const decays = classes.psiM[c] !== 0 && Math.abs(F) > classes.decayThreshold[c]!;
      if (!decays && F <= stillBelow[c]! && F >= stillAbove[c]!) continue;
      trial.moved[trial.count++] = j;
      keep(trial, state, c);
      if (!steep) {
        moveOne(classes, state, c, F, h);
        continue;
      }
      const nudge = NUDGE * classes.kneeWidth[c]! * (F < 0 ? -1 : 1);
      moveOne(classes, state, c, F + nudge, h);
      const phi = state.phi[c]!;
      const psi = state.psi[c]!;
      restore(trial, state, c);
      moveOne(classes, state, c, F, h);
      const endF = x * end.x + y * end.y + inhibit * end.inhibit + s * endWire[k]! + bias;
      const fe = constants[i + 7]!;
      const left = 1 - constants[i + 6]! * (Math.sqrt(endF * endF + fe * fe) - fe);
      trial.steepness[c] = ((phi - state.phi[c]!) * left + psi - state.psi[c]!) / nudge / 2;
    }
  }
}

/** Adds the steepness of all that have moved to the slopes, which have the elastic part already. */
export function addSteepness(step: StepContext): void {
  const { state, trial, sums } = step;
  const { constants, order } = state;
  const { slopes } = sums;
  const { section } = step.problem.classes;
  const { role } = step.cycle;
  for (let m = 0; m < trial.count; m++) {
    const j = trial.moved[m]!;
    const c = order[j]!;
    const i = j * WIDTH;
    const x = constants[i]!;
    const y = constants[i + 1]!;
    const inhibit = constants[i + 2]!;
    const s = constants[i + 3]!;
    const slope = constants[i + 8]! * trial.steepness[c]!;
    const slot = role[c]! * sums.stride + section[c]!;
    sums.own[slot]! += slope;
    sums.x[slot]! += x * s * slope;
    sums.y[slot]! += y * s * slope;
    sums.inhibit[slot]! += inhibit * s * slope;
    slopes.xx += x * x * slope;
    slopes.yy += y * y * slope;
    slopes.xy += x * y * slope;
    slopes.xInhibit += x * inhibit * slope;
    slopes.yInhibit += y * inhibit * slope;
  }
}

function moveOne(classes: CoreClasses, state: CoreState, c: number, F: number, h: number): void {
  if (F > state.stillBelow[c]! || F < state.stillAbove[c]!) {
    if (state.rings.length === 0) movePhi(classes, state, c, F, h);
    else moveRings(classes, state, c, F, h);
  }
  if (classes.psiM[c] !== 0) movePsi(classes, state.psi, c, F, h);
}

function keep(trial: StepTrial, state: CoreState, c: number): void {
  const each = state.rings.length / state.phi.length;
  trial.phi[c] = state.phi[c]!;
  trial.psi[c] = state.psi[c]!;
  trial.stillBelow[c] = state.stillBelow[c]!;
  trial.stillAbove[c] = state.stillAbove[c]!;
  for (let i = each * c; i < each * (c + 1); i++) trial.rings[i] = state.rings[i]!;
}

function restore(trial: StepTrial, state: CoreState, c: number): void {
  const each = state.rings.length / state.phi.length;
  state.phi[c] = trial.phi[c]!;
  state.psi[c] = trial.psi[c]!;
  state.stillBelow[c] = trial.stillBelow[c]!;
  state.stillAbove[c] = trial.stillAbove[c]!;
  for (let i = each * c; i < each * (c + 1); i++) state.rings[i] = trial.rings[i]!;
}
