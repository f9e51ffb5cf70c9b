import { IDLE, WIDTH, type CoreState } from './core-state.ts';
import type { CoreStep } from './core-step.ts';
import type { SectionSums } from './section-sums.ts';

/** Fluxes and slopes of every run at the end of the step, by the formulas of core-stepper.ts. */
export function sumCores(state: CoreState, step: CoreStep, sums: SectionSums): void {
  const { phi, psi, constants, runs, slots, sectionOf, order, idleFrom, idle, idleHolds } = state;
  const { endWire, gain } = step;
  const { x: endX, y: endY, inhibit: endH } = step.end;
  const last = state.runCount;
  let lineX = 0;
  let lineY = 0;
  let lineH = 0;
  let magnets = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  let xh = 0;
  let yh = 0;
  for (let run = 0; run < last; run++) {
    const wireEnd = endWire[sectionOf[run]!]!;
    let flux = 0;
    let own = 0;
    let x = 0;
    let y = 0;
    let inhibit = 0;
    let to = runs[run + 1]!;
    if (idleHolds[run] === 1) {
      to = idleFrom[run]!;
      const at = run * IDLE;
      const idleFactor = constants[to * WIDTH + 2]!;
      const fe = idle[at + 7]!;
      const root = Math.sqrt(wireEnd * wireEnd + fe * fe);
      const bent = root - fe;
      const turn = wireEnd / root;
      flux = idle[at + 1]! + idle[at + 2]! * wireEnd - idle[at + 3]! * bent;
      own = gain * (idle[at + 2]! - idle[at + 3]! * turn);
      inhibit = idleFactor * gain * (idle[at + 5]! - idle[at + 6]! * turn);
      lineH += idleFactor * (idle[at + 4]! + idle[at + 5]! * wireEnd - idle[at + 6]! * bent);
    }
    for (let j = runs[run]!; j < to; j++) {
      const c = order[j]!;
      const i = j * WIDTH;
      const ax = constants[i]!;
      const ay = constants[i + 1]!;
      const ah = constants[i + 2]!;
      const s = constants[i + 3]!;
      const bias = constants[i + 4]!;
      const F = ax * endX + ay * endY + ah * endH + s * wireEnd + bias;
      const a = constants[i + 5]!;
      const fe = constants[i + 7]!;
      const n = constants[i + 8]!;
      const f = phi[c]!;
      const root = Math.sqrt(F * F + fe * fe);
      const b = constants[i + 6]! * f;
      const slope = n * gain * (a - (b * F) / root);
      const lambda = n * (f + psi[c]! + a * F - b * (root - fe));
      flux += s * lambda;
      own += slope;
      magnets += bias * lambda;
      if (ax !== 0) {
        x += s * slope;
        lineX += lambda;
        xx += slope;
        if (ay !== 0) xy += slope;
      }
      if (ay !== 0) {
        y += s * slope;
        lineY += lambda;
        yy += slope;
      }
      if (ah !== 0) {
        inhibit += ah * s * slope;
        lineH += ah * lambda;
        if (ax !== 0) xh += ah * slope;
        if (ay !== 0) yh += ah * slope;
      }
    }
    const slot = slots[run]!;
    sums.flux[slot] = flux;
    sums.own[slot] = own;
    sums.x[slot] = x;
    sums.y[slot] = y;
    sums.inhibit[slot] = inhibit;
  }
  const { linkages, slopes } = sums;
  linkages.x = lineX;
  linkages.y = lineY;
  linkages.inhibit = lineH;
  linkages.magnets = magnets;
  slopes.xx = xx;
  slopes.yy = yy;
  slopes.xy = xy;
  slopes.xInhibit = xh;
  slopes.yInhibit = yh;
}
