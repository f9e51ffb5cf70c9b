import type { CoreClasses } from '../network/core-classes.ts';
import { IDLE, WIDTH, type CoreState } from './core-state.ts';
import { sumIdle } from './idle-group.ts';
import { movePhi, movePsi } from './move-core.ts';
import { moveRings } from './move-rings.ts';
import type { LineCurrents, SectionSums } from './section-sums.ts';

/** What moves the cores in one step. */
export interface CoreStep {
  /** s; 0: nothing moves, only the sums are taken. */
  h: number;
  /** Currents at mid-step, A: of the lines, and of the wire in each section. They move the inelastic parts. */
  readonly mid: LineCurrents;
  readonly midWire: Float64Array;
  /** Currents at the end of the step with the ferrite's lag, A, to which the elastic part answers. */
  readonly end: LineCurrents;
  readonly endWire: Float64Array;
  /** Change of a lagged current per change of the current in this step (1 without lag). */
  gain: number;
}

/**
 * Moves the inelastic flux of every class through one step and sums fluxes and slopes at its end (see SectionSums).
 *
 *     phi: the exact step of the 1965 bell at the drive of mid-step (movePhi); psi likewise
 *     lambda = phi + psi + a F - b (phi/phi_r) g(F),   g = sqrt(F^2 + F_e^2) - F_e         (core/model.ts)
 *     slope  = gain (a - b (phi/phi_r) F / sqrt(F^2 + F_e^2))
 *
 * with F = a_x i_x + a_y i_y + a_h i_h + s i + bias: at mid-step for phi and psi, lagged at the end for lambda. The loop
 * over a run is the hottest of the engine: constants lie side by side, sums are kept in locals.
 */
export function advanceCores(
  classes: CoreClasses,
  state: CoreState,
  step: CoreStep,
  sums: SectionSums,
): void {
  const { h, mid, midWire, end, endWire, gain } = step;
  const { section, psiM } = classes;
  const move = classes.nearness.length === 1 ? movePhi : moveRings;
  const { phi, psi, stillBelow, stillAbove, constants, runs, slots, order, idleFrom, idle } = state;
  const { x: midX, y: midY, inhibit: midH } = mid;
  const { x: endX, y: endY, inhibit: endH } = end;
  const inhibited = midH !== 0 || endH !== 0;
  let lineX = 0;
  let lineY = 0;
  let lineH = 0;
  let magnets = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  let xh = 0;
  let yh = 0;
  const last = state.runCount;
  for (let run = 0; run < last; run++) {
    const from = runs[run]!;
    const to = runs[run + 1]!;
    const k = section[order[from]!]!;
    const wireMid = midWire[k]!;
    const wireEnd = endWire[k]!;
    const slot = slots[run]!;
    let flux = 0;
    let own = 0;
    let x = 0;
    let y = 0;
    let inhibit = 0;
    // The idle group at once where it stands still; else its cores one by one like the others.
    const rest = idleFrom[run]!;
    let alone = to;
    const at = run * IDLE;
    const idleFactor = rest < to ? constants[rest * WIDTH + 2]! : 0;
    if (rest < to && !(inhibited && idleFactor !== 0)) {
      const moved = Math.abs(wireMid);
      if (idle[at]! < 0 && moved <= QUIET_WIRE) sumIdle(state, run);
      if (moved <= idle[at]!) {
        alone = rest;
        const fe = idle[at + 7]!;
        const root = Math.sqrt(wireEnd * wireEnd + fe * fe);
        const bent = root - fe;
        const turn = wireEnd / root;
        flux = idle[at + 1]! + idle[at + 2]! * wireEnd - idle[at + 3]! * bent;
        own = gain * (idle[at + 2]! - idle[at + 3]! * turn);
        inhibit = idleFactor * gain * (idle[at + 5]! - idle[at + 6]! * turn);
        lineH += idleFactor * (idle[at + 4]! + idle[at + 5]! * wireEnd - idle[at + 6]! * bent);
      }
    }
    if (alone === to) idle[at] = -1;
    for (let j = from; j < alone; j++) {
      const c = order[j]!;
      const i = j * WIDTH;
      const ax = constants[i]!;
      const ay = constants[i + 1]!;
      const ah = constants[i + 2]!;
      const s = constants[i + 3]!;
      const bias = constants[i + 4]!;
      if (h > 0) {
        const F = ax * midX + ay * midY + ah * midH + s * wireMid + bias;
        if (F > stillBelow[c]! || F < stillAbove[c]!) move(classes, state, c, F, h);
        if (psiM[c] !== 0) movePsi(classes, psi, c, F, h);
      }
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

/** A: a wire current small enough to try whether a run of cores stands still. */
const QUIET_WIRE = 0.02;
