import { advanceCore, distanceMoved, restState, type CoreState } from './state.ts';
import type { CoreParameters } from '../design/core.ts';

export interface DisturbTrain {
  /** A, magnitude of the half-select ampere-turns. */
  readonly halfDrive: number;
  /** s, width of each pulse; rectangular here, edges are left out. */
  readonly width: number;
  /** Number of cycles (default 1000); the train ends early when a cycle no longer changes anything. */
  readonly pulses?: number;
  /** Pulses of one cycle in order: +1 half-write, -1 half-read. Default: read, then write. */
  readonly cycle?: readonly (1 | -1)[];
}

const READ_THEN_WRITE = [-1, 1] as const;
const LONG_TRAIN = 1000;

/** phi (Wb) before the train and after each of its cycles: how a core settles. */
export function disturbHistory(p: CoreParameters, initial: CoreState, train: DisturbTrain): Float64Array {
  const pulses = train.pulses ?? LONG_TRAIN;
  const phi = new Float64Array(pulses + 1);
  phi[0] = initial.phi;
  let state = initial;
  for (let n = 1; n <= pulses; n++) {
    state = disturbOnce(p, state, train);
    phi[n] = state.phi;
  }
  return phi;
}

/** State after one cycle of the train. */
export function disturbOnce(p: CoreParameters, state: CoreState, train: DisturbTrain): CoreState {
  let next = state;
  for (const sign of train.cycle ?? READ_THEN_WRITE) {
    next = advanceCore(p, next, sign * train.halfDrive, train.width);
  }
  return next;
}

/** State after the whole train; stops when a cycle changes phi and psi by less than 1e-12 of phi_r. */
export function disturb(p: CoreParameters, initial: CoreState, train: DisturbTrain): CoreState {
  let state = initial;
  const still = 1e-12 * p.remanentFlux;
  for (let n = 0; n < (train.pulses ?? LONG_TRAIN); n++) {
    const next = disturbOnce(p, state, train);
    const moved = distanceMoved(state, next);
    state = next;
    if (moved < still) break;
  }
  return state;
}

/** A ONE and a ZERO after a long train of half-select pulses; each starts undisturbed. */
export function disturbedState(
  p: CoreParameters,
  train: DisturbTrain,
): { readonly one: CoreState; readonly zero: CoreState } {
  return { one: disturb(p, restState(p, 1), train), zero: disturb(p, restState(p, 0), train) };
}
