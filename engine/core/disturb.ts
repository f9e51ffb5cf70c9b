import {
  decayed,
  kick,
  kicksBy,
  repeat,
  restsAt,
  turned,
  type Kick,
  type KickedCore,
  type KickTrain,
} from './kicks.ts';
import { meanOf, restState, type CoreState } from './state.ts';
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
  const core: KickedCore = { ...initial };
  const once = cycleOf(p, train);
  for (let n = 1; n <= pulses; n++) {
    kick(core, once);
    phi[n] = core.phi;
  }
  return phi;
}

/** One cycle of the train. */
const cycleOf = (p: CoreParameters, { cycle = READ_THEN_WRITE, halfDrive, width }: DisturbTrain): KickTrain =>
  kicksBy(
    p,
    cycle.map((sign) => ({ drive: sign * halfDrive, length: width })),
  );

/** State after the whole train; a part of the core that a cycle moves by less than 1e-12 of phi_r counts as settled. */
export function disturb(p: CoreParameters, initial: CoreState, train: DisturbTrain): CoreState {
  const cycles = train.pulses ?? LONG_TRAIN;
  const still = 1e-12 * p.remanentFlux;
  const { rings, decays } = cycleOf(p, train);
  let { psi } = initial;
  for (let n = 0; n < cycles; n++) {
    const before = psi;
    psi = decayed(psi, decays);
    if (Math.abs(psi - before) < still) break;
  }
  const settled = rings.map((kicks, k) => repeated(initial.rings?.[k] ?? initial.phi, kicks, cycles, still));
  return settled.length === 1 ? { phi: settled[0]!, psi } : { phi: meanOf(settled), psi, rings: settled };
}

/**
 * A ring's flux after so many cycles. As a rule one pulse of the cycle moves it, always the same way, and the others find it
 * at rest: then the cycles are one long pulse.
 */
function repeated(phi: number, kicks: readonly Kick[], cycles: number, still: number): number {
  const [only, another] = kicks.filter((kick) => !restsAt(kick, phi));
  if (only === undefined) return phi;
  if (another === undefined) {
    const end = turned(phi, [repeat(only, cycles)]);
    if (kicks.every((kick) => kick === only || restsAt(kick, end))) return end;
  }
  for (let n = 0; n < cycles; n++) {
    const before = phi;
    phi = turned(phi, kicks);
    if (Math.abs(phi - before) < still) break;
  }
  return phi;
}

/** A ONE and a ZERO after a long train of half-select pulses; each starts undisturbed. */
export function disturbedState(
  p: CoreParameters,
  train: DisturbTrain,
): { readonly one: CoreState; readonly zero: CoreState } {
  return { one: disturb(p, restState(p, 1), train), zero: disturb(p, restState(p, 0), train) };
}
