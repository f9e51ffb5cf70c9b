import type { CoreClasses } from '../network/core-classes.ts';
import { WIDTH, type CoreState } from './core-state.ts';
import type { CoreStep } from './core-step.ts';
import { movePhi } from './move-core.ts';
import { moveRings } from './move-rings.ts';

/** Moves every class through the step at the drive of its middle. */
export function moveClasses(classes: CoreClasses, state: CoreState, step: CoreStep): void {
  moveMain(classes, state, findMoving(classes, state, step), step);
}

/** Main part of the first `count` classes that findMoving has listed. */
export function moveMain(classes: CoreClasses, state: CoreState, count: number, step: CoreStep): void {
  if (classes.nearness.length === 1) movePhi(classes, state, count, step);
  else for (let m = 0; m < count; m++) moveRings(classes, state, m, step);
}

/** Lists the classes whose drive may move their main part, and moves the decaying part of all. @returns how many */
export function findMoving(
  { psiM, decayThreshold, decayCharge }: CoreClasses,
  state: CoreState,
  step: CoreStep,
) {
  const { psi, stillBelow, stillAbove, constants, runs, sectionOf, order, idleFrom, idleHolds } = state;
  const { moving, drives } = state;
  const { h, midWire } = step;
  const { x: midX, y: midY, inhibit: midH } = step.mid;
  const last = state.runCount;
  let count = 0;
  for (let run = 0; run < last; run++) {
    const wireMid = midWire[sectionOf[run]!]!;
    const to = idleHolds[run] === 1 ? idleFrom[run]! : runs[run + 1]!;
    for (let j = runs[run]!; j < to; j++) {
      const c = order[j]!;
      const i = j * WIDTH;
      const F =
        constants[i]! * midX +
        constants[i + 1]! * midY +
        constants[i + 2]! * midH +
        constants[i + 3]! * wireMid +
        constants[i + 4]!;
      if (F > stillBelow[c]! || F < stillAbove[c]!) {
        moving[count] = c;
        drives[count++] = F;
      }
      if (psiM[c] === 0) continue;
      const excess = Math.abs(F) - decayThreshold[c]!;
      if (excess <= 0) continue;
      const target = (Math.sign(F) * psiM[c]!) / 2;
      psi[c] = target + (psi[c]! - target) * Math.exp((-excess * h) / decayCharge[c]!);
    }
  }
  return count;
}
