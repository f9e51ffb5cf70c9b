import type { CoreClasses } from '../network/core-classes.ts';
import { IDLE, WIDTH, type CoreState, type DriveFactors } from './core-state.ts';
import type { CoreStep } from './core-step.ts';

/*
 * Most cores of a mat lie on no driven line and stand still: they see nothing but the current of their own wire. Those of
 * one role and section are its idle group. While the wire's current is too weak to move any of them, their flux is a
 * function of that current with five sums for coefficients, so that a run costs driven cores, not cores.
 */

/** Orders the classes of one run; @returns where its idle group starts: no line, no bias, no decaying part, all alike in bend and inhibit. */
export function placeRun(
  classes: CoreClasses,
  factors: DriveFactors,
  order: Int32Array,
  from: number,
  to: number,
): number {
  const plain = (c: number): boolean =>
    factors.x[c] === 0 && factors.y[c] === 0 && classes.bias[c] === 0 && classes.psiM[c] === 0;
  let like = -1;
  const isIdle = (c: number): boolean => {
    if (!plain(c)) return false;
    if (like < 0) like = c;
    return factors.inhibit[c] === factors.inhibit[like] && classes.bend[c] === classes.bend[like];
  };
  const idle: number[] = [];
  let at = from;
  for (let j = from; j < to; j++) {
    const c = order[j]!;
    if (isIdle(c)) idle.push(c);
    else order[at++] = c;
  }
  order.set(idle, at);
  return at;
}

/**
 * Sums the idle group of a run: cores that see nothing but the wire's current F = s i and stand still. With a, b, phi, n
 * of each: linkage sum n s (phi + psi) + i sum n a - g(i) sum n s b phi, and likewise without the s for the inhibit wire.
 */
function sumIdle(state: CoreState, run: number): void {
  const { runs, order, idleFrom, constants, phi, psi, stillBelow, stillAbove, idle } = state;
  const at = run * IDLE;
  idle.fill(0, at, at + IDLE);
  let bound = Infinity;
  for (let j = idleFrom[run]!; j < runs[run + 1]!; j++) {
    const c = order[j]!;
    const i = j * WIDTH;
    const s = constants[i + 3]!;
    const a = constants[i + 5]!;
    const b = constants[i + 6]! * phi[c]!;
    const n = constants[i + 8]!;
    const rest = phi[c]! + psi[c]!;
    bound = Math.min(bound, stillBelow[c]!, -stillAbove[c]!);
    idle[at + 1]! += n * s * rest;
    idle[at + 2]! += n * a;
    idle[at + 3]! += n * s * b;
    idle[at + 4]! += n * rest;
    idle[at + 5]! += n * s * a;
    idle[at + 6]! += n * b;
    idle[at + 7] = constants[i + 7]!;
  }
  idle[at] = bound;
}

/** Decides for each run whether its idle group stands still in this step and answers as one (CoreState.idleHolds). */
export function holdIdle(state: CoreState, { mid, end, midWire }: CoreStep): void {
  const { runs, sectionOf, idleFrom, idle, idleHolds, constants } = state;
  const inhibited = mid.inhibit !== 0 || end.inhibit !== 0;
  for (let run = 0; run < state.runCount; run++) {
    const rest = idleFrom[run]!;
    const at = run * IDLE;
    idleHolds[run] = 0;
    if (rest < runs[run + 1]! && !(inhibited && constants[rest * WIDTH + 2] !== 0)) {
      const moved = Math.abs(midWire[sectionOf[run]!]!);
      if (idle[at]! < 0 && moved <= QUIET_WIRE) sumIdle(state, run);
      if (moved <= idle[at]!) idleHolds[run] = 1;
    }
    if (idleHolds[run] === 0) idle[at] = -1;
  }
}

/** A: a wire current small enough to try whether a run of cores stands still. */
const QUIET_WIRE = 0.02;
