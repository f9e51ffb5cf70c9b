import { HALF_SELECTED, SELECTED, UNSELECTED } from '../network/core-classes.ts';
import { rate, type Difference } from './difference.ts';
import { WHOLE_SHARE } from './ladder.ts';
import { CLAMP_CONDUCTANCE } from './solve-wire.ts';
import { CORE, DIRECT, INHIBIT, IRREVERSIBLE, PARTS, REVERSIBLE, type Split } from './split-state.ts';
import type { StepContext } from './step-context.ts';
import type { WireState } from './wire-state.ts';

/** Advances the split by the step just solved, before its end becomes now. */
export function advanceSplit(split: Split, step: StepContext): void {
  shareSources(split, step);
  eliminate(split, step);
  substitute(split, step.wire, step.difference);
}

/** W: what each cause induces in every section, V, its own currents' past included. */
function shareSources(split: Split, step: StepContext): void {
  const { wire, sums, lagRate } = step;
  const { sections, stride, jNext, jGuess, lagGuess, lag, lagPast, flux, fluxPast, inductance } = wire;
  const { a0, a1, a2, gain } = step.difference;
  const { W, lag: lags, lagPast: lagsPast, lagMix } = split;
  const { flux: fluxNext, own, x, y, inhibit: slope } = sums;
  const { airX, airY, airInhibit } = step.cycle.coupling;
  // Slopes carry the step's gain; rates of lagged currents are divided by it.
  const xRate = lagRate.x / gain;
  const yRate = lagRate.y / gain;
  const inhibitRate = lagRate.inhibit / gain;
  for (let k = 0, at = 0; k < sections.count; k++, at += PARTS) {
    const end = lagGuess[k]! + gain * (jNext[k]! - jGuess[k]!);
    const ownRate = (a0 * end + a1 * lag[k]! + a2 * lagPast[k]!) / gain;
    const sel = SELECTED * stride + k;
    const half = HALF_SELECTED * stride + k;
    const rest = UNSELECTED * stride + k;
    // What the cores of a role induce beyond their share of the wire's own inductance.
    const emfSelected = a0 * fluxNext[sel]! + a1 * flux[sel]! + a2 * fluxPast[sel]! - own[sel]! * ownRate;
    const emfHalf = a0 * fluxNext[half]! + a1 * flux[half]! + a2 * fluxPast[half]! - own[half]! * ownRate;
    const emfRest = a0 * fluxNext[rest]! + a1 * flux[rest]! + a2 * fluxPast[rest]! - own[rest]! * ownRate;
    const inhibitedHalf = slope[half]! * inhibitRate;
    const inhibitedSelected = slope[sel]! * inhibitRate;
    const reversible = x[half]! * xRate + y[half]! * yRate;
    const L = inductance[k]!;
    // One statement a cause, here and below: loops over causes unrolled by hand, the innermost ones of the engine.
    const m0 = a1 * lags[at]! + a2 * lagsPast[at]!;
    const m1 = a1 * lags[at + 1]! + a2 * lagsPast[at + 1]!;
    const m2 = a1 * lags[at + 2]! + a2 * lagsPast[at + 2]!;
    const m3 = a1 * lags[at + 3]! + a2 * lagsPast[at + 3]!;
    const m4 = a1 * lags[at + 4]! + a2 * lagsPast[at + 4]!;
    lagMix[at] = m0;
    lagMix[at + 1] = m1;
    lagMix[at + 2] = m2;
    lagMix[at + 3] = m3;
    lagMix[at + 4] = m4;
    W[at + DIRECT] = airX[k]! * lagRate.x + airY[k]! * lagRate.y + L * m0;
    W[at + REVERSIBLE] = reversible + L * m1;
    W[at + IRREVERSIBLE] = emfHalf - reversible - inhibitedHalf + L * m2;
    W[at + CORE] = emfSelected - inhibitedSelected + L * m3;
    W[at + INHIBIT] = emfRest + inhibitedHalf + inhibitedSelected + airInhibit[k]! * lagRate.inhibit + L * m4;
  }
}

/** Right-hand sides of the five causes and their forward elimination, in one pass along the wire. */
function eliminate(split: Split, step: StepContext): void {
  const { sections, ladder, push, conductance, vNext } = step.wire;
  const { a1, a2 } = step.difference;
  const { coupling } = step.cycle;
  const { clamp } = step.problem;
  const { W, rhs, v, vPast } = split;
  const { near, inverse, lower } = ladder;
  const { capacitance, injection } = sections;
  const { chargeX, chargeY } = coupling;
  const n = sections.count;
  const pushX = rate(step.difference, step.voltageX, push.x, push.xPast);
  const pushY = rate(step.difference, step.voltageY, push.y, push.yPast);
  const injected = step.next.inhibit * coupling.inhibited;
  // Of every cause: eliminated entry of the node before, what section k - 1 gave to node k, history of node k.
  let r0 = 0;
  let r1 = 0;
  let r2 = 0;
  let r3 = 0;
  let r4 = 0;
  let c0 = 0;
  let c1 = 0;
  let c2 = 0;
  let c3 = 0;
  let c4 = 0;
  let h0 = a1 * v[0]! + a2 * vPast[0]!;
  let h1 = a1 * v[1]! + a2 * vPast[1]!;
  let h2 = a1 * v[2]! + a2 * vPast[2]!;
  let h3 = a1 * v[3]! + a2 * vPast[3]!;
  let h4 = a1 * v[4]! + a2 * vPast[4]!;
  for (let k = 0, at = 0; k <= n; k++, at += PARTS) {
    c0 += chargeX[k]! * pushX + chargeY[k]! * pushY;
    c4 += injection[k]! * injected;
    if (conductance[k]! !== sections.conductance[k]!) c4 += CLAMP_CONDUCTANCE * clamp * Math.sign(vNext[k]!);
    const m = k === 0 ? 0 : lower[k]!;
    if (k === n) {
      rhs[at + 0] = c0 - m * r0;
      rhs[at + 1] = c1 - m * r1;
      rhs[at + 2] = c2 - m * r2;
      rhs[at + 3] = c3 - m * r3;
      rhs[at + 4] = c4 - m * r4;
      return;
    }
    const push = inverse[k]!;
    const next = near[k]!;
    const own = capacitance[k]! * WHOLE_SHARE - next;
    const p0 = push * W[at + 0]!;
    const p1 = push * W[at + 1]!;
    const p2 = push * W[at + 2]!;
    const p3 = push * W[at + 3]!;
    const p4 = push * W[at + 4]!;
    const g0 = a1 * v[at + 5]! + a2 * vPast[at + 5]!;
    const g1 = a1 * v[at + 6]! + a2 * vPast[at + 6]!;
    const g2 = a1 * v[at + 7]! + a2 * vPast[at + 7]!;
    const g3 = a1 * v[at + 8]! + a2 * vPast[at + 8]!;
    const g4 = a1 * v[at + 9]! + a2 * vPast[at + 9]!;
    rhs[at + 0] = r0 = c0 + p0 - own * h0 - next * g0 - m * r0;
    rhs[at + 1] = r1 = c1 + p1 - own * h1 - next * g1 - m * r1;
    rhs[at + 2] = r2 = c2 + p2 - own * h2 - next * g2 - m * r2;
    rhs[at + 3] = r3 = c3 + p3 - own * h3 - next * g3 - m * r3;
    rhs[at + 4] = r4 = c4 + p4 - own * h4 - next * g4 - m * r4;
    c0 = -p0 - own * g0 - next * h0;
    c1 = -p1 - own * g1 - next * h1;
    c2 = -p2 - own * g2 - next * h2;
    c3 = -p3 - own * g3 - next * h3;
    c4 = -p4 - own * g4 - next * h4;
    h0 = g0;
    h1 = g1;
    h2 = g2;
    h3 = g3;
    h4 = g4;
  }
}

/** Back substitution: voltages, lagged currents and their memories at the end of the step. */
function substitute(split: Split, wire: WireState, d: Difference): void {
  const { pivot, off, inverse, sections: n } = wire.ladder;
  const { W, rhs, lag, lagPast, lagMix, v, vPast } = split;
  const { a0, a1, a2, gain, lossTime, keepsRate } = d;
  let x0 = 0;
  let x1 = 0;
  let x2 = 0;
  let x3 = 0;
  let x4 = 0;
  for (let k = n, at = n * PARTS; k >= 0; k--, at -= PARTS) {
    const o = k === n ? 0 : off[k]!;
    const p = pivot[k]!;
    const u0 = (rhs[at + 0]! - o * x0) * p;
    const u1 = (rhs[at + 1]! - o * x1) * p;
    const u2 = (rhs[at + 2]! - o * x2) * p;
    const u3 = (rhs[at + 3]! - o * x3) * p;
    const u4 = (rhs[at + 4]! - o * x4) * p;
    if (k < n) {
      const y = inverse[k]!;
      rhs[at + 0] = y * (u0 - x0 - W[at + 0]!);
      rhs[at + 1] = y * (u1 - x1 - W[at + 1]!);
      rhs[at + 2] = y * (u2 - x2 - W[at + 2]!);
      rhs[at + 3] = y * (u3 - x3 - W[at + 3]!);
      rhs[at + 4] = y * (u4 - x4 - W[at + 4]!);
    }
    x0 = u0;
    x1 = u1;
    x2 = u2;
    x3 = u3;
    x4 = u4;
    vPast[at + 0] = keepsRate ? a0 * u0 + a1 * v[at + 0]! + a2 * vPast[at + 0]! : v[at + 0]!;
    vPast[at + 1] = keepsRate ? a0 * u1 + a1 * v[at + 1]! + a2 * vPast[at + 1]! : v[at + 1]!;
    vPast[at + 2] = keepsRate ? a0 * u2 + a1 * v[at + 2]! + a2 * vPast[at + 2]! : v[at + 2]!;
    vPast[at + 3] = keepsRate ? a0 * u3 + a1 * v[at + 3]! + a2 * vPast[at + 3]! : v[at + 3]!;
    vPast[at + 4] = keepsRate ? a0 * u4 + a1 * v[at + 4]! + a2 * vPast[at + 4]! : v[at + 4]!;
    v[at + 0] = u0;
    v[at + 1] = u1;
    v[at + 2] = u2;
    v[at + 3] = u3;
    v[at + 4] = u4;
  }
  for (let i = 0; i < n * PARTS; i++) {
    const next = gain * (rhs[i]! - lossTime * lagMix[i]!);
    lagPast[i] = keepsRate ? a0 * next + lagMix[i]! : lag[i]!;
    lag[i] = next;
  }
}
