import type { Coupling } from '../network/coupling.ts';
import { rate } from './difference.ts';
import { setNear, stepLadder } from './ladder.ts';
import type { StepContext } from './step-context.ts';
import type { WireState } from './wire-state.ts';

/**
 * Solves one step of the wire at the predicted currents of the lines: sets vNext, jNext, inductance, conductance, W.
 *
 *     section k:  D[L lag + air + flux]_k = v_k - v_(k+1) - R_k j_k          flux linearised about jGuess (SectionSums)
 *     node k:     D[q]_k + G_k v_k = j_(k-1) - j_k + J_k i_inhibit + C_x D[v_x] + C_y D[v_y]
 */
export function solveWire(step: StepContext): void {
  const { wire, difference: d, sums, voltageX, voltageY } = step;
  const { coupling } = step.cycle;
  const { clamp } = step.problem;
  const { sections, ladder, stride, jGuess, jNext, v, vNext, vPast, vMix, push, inductance, W } = wire;
  const { lag, lagPast, lagGuess, air, airPast, airNext, flux, fluxPast } = wire;
  const { a0, a1, a2, gain } = d;
  const { own, flux: fluxNext } = sums;
  const n = sections.count;
  const two = 2 * stride;
  for (let k = 0, k1 = stride, k2 = two; k < n; k++, k1++, k2++) {
    const bare = sections.inductance[k]!;
    const whole = gain * bare + own[k]! + own[k1]! + own[k2]!;
    inductance[k] = whole;
    vMix[k] = a1 * v[k]! + a2 * vPast[k]!;
    W[k] =
      a0 *
        (bare * lagGuess[k]! +
          airNext[k]! +
          fluxNext[k]! +
          fluxNext[k1]! +
          fluxNext[k2]! -
          whole * jGuess[k]!) +
      a1 * (bare * lag[k]! + air[k]! + flux[k]! + flux[k1]! + flux[k2]!) +
      a2 * (bare * lagPast[k]! + airPast[k]! + fluxPast[k]! + fluxPast[k1]! + fluxPast[k2]!);
  }
  vMix[n] = a1 * v[n]! + a2 * vPast[n]!;
  setNear(ladder, sections, d.h, gain, inductance);
  const entering: Entering = {
    injected: step.next.inhibit * coupling.inhibited,
    pushX: rate(d, voltageX, push.x, push.xPast),
    pushY: rate(d, voltageY, push.y, push.yPast),
  };
  let state = setClamps(wire, v, clamp);
  for (let tries = 0; tries < MAX_CLAMP_TRIES; tries++) {
    enterNodes(wire, coupling, entering, clamp);
    stepLadder(ladder, sections, a0, inductance, wire.conductance, W, vMix, vNext);
    if (clamp === Infinity) break;
    const before = state;
    state = setClamps(wire, vNext, clamp);
    if (state === before) break;
  }
  for (let k = 0; k < n; k++) jNext[k] = ladder.inverse[k]! * (vNext[k]! - vNext[k + 1]! - W[k]!);
}

/**
 * Sets conductance and clamped: which driven nodes' clamps conduct at these voltages.
 * @returns a number for the whole state
 */
function setClamps(wire: WireState, seen: Float64Array, clamp: number): number {
  const { sections, conductance, clamped } = wire;
  if (clamp === Infinity) return 0;
  let state = 0;
  for (let k = 0; k <= sections.count; k++) {
    if (sections.injection[k] === 0) continue;
    clamped[k] = Math.abs(seen[k]!) > clamp ? Math.sign(seen[k]!) : 0;
    conductance[k] = sections.conductance[k]! + CLAMP_CONDUCTANCE * Math.abs(clamped[k]!);
    state = 3 * state + 1 + clamped[k]!;
  }
  return state;
}

/** What enters nodes in a step: inhibit current, A, and the rates of the drive lines' voltages, V/s. */
interface Entering {
  readonly injected: number;
  readonly pushX: number;
  readonly pushY: number;
}

/** Sets vNext to the currents that enter the nodes, A: injected, through the coupling capacitance, behind clamps. */
function enterNodes(
  { sections, clamped, vNext }: WireState,
  { chargeX, chargeY }: Coupling,
  { injected, pushX, pushY }: Entering,
  clamp: number,
): void {
  for (let k = 0; k <= sections.count; k++)
    vNext[k] = sections.injection[k]! * injected + chargeX[k]! * pushX + chargeY[k]! * pushY;
  if (clamp === Infinity) return;
  for (let k = 0; k <= sections.count; k++) vNext[k]! += CLAMP_CONDUCTANCE * clamp * clamped[k]!;
}

/** Conductance of a clamp that conducts, S. */
export const CLAMP_CONDUCTANCE = 1;

/** Clamps are tried on and off until they agree with the voltages they leave, so often at most. */
const MAX_CLAMP_TRIES = 5;
