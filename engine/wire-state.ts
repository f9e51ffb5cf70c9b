import type { Coupling } from './coupling.ts';
import { landsAt, type DriveLine } from './drive-line.ts';
import type { SectionSums } from './core-stepper.ts';
import { factorLadder, makeLadderStep, nodeCharge, solveLadder, type LadderStep } from './ladder.ts';
import type { Sections } from './network.ts';

/** Coefficients of the step's difference formula, 1/s: D[y] = a0 y1 + a1 y0 + a2 y-1. */
export interface Difference {
  a0: number;
  a1: number;
  a2: number;
  /** h over the step before; 0 after a slope jump. */
  w: number;
  h: number;
  /** Ferrite's lag, s, and its gain in this step: lag1 = gain (i1 - lossTime (a1 lag0 + a2 lag-1)). */
  lossTime: number;
  gain: number;
}

/** Two-step backward formula for a step h after a step hOld (0: one-step, after a slope jump). */
export function setDifference(d: Difference, h: number, hOld: number): void {
  const w = hOld === 0 ? 0 : h / hOld;
  d.w = w;
  d.h = h;
  d.a0 = (1 + 2 * w) / (1 + w) / h;
  d.a1 = -(1 + w) / h;
  d.a2 = (w * w) / (1 + w) / h;
  d.gain = 1 / (1 + d.lossTime * d.a0);
}

/** A current as the elastic flux sees it at the end of the step: lossTime D[lag] = current - lag. */
export const lagged = (d: Difference, next: number, lag: number, lagOld: number): number =>
  d.gain * (next - d.lossTime * (d.a1 * lag + d.a2 * lagOld));

/**
 * The sense wire in time: currents, voltages, linkages and charges now and one step before. Arrays per section have
 * one more entry for cores that the wire does not thread (always 0).
 */
export interface WireState {
  readonly sections: Sections;
  readonly step: LadderStep;
  readonly stride: number;
  readonly jOld: Float64Array;
  readonly j: Float64Array;
  /** Predicted current at the end of the step, and the solved one. */
  readonly jGuess: Float64Array;
  readonly jNext: Float64Array;
  readonly jMid: Float64Array;
  /** Current with the ferrite's lag, which the wire's inductance and the elastic flux answer. */
  readonly lag: Float64Array;
  readonly lagOld: Float64Array;
  readonly lagGuess: Float64Array;
  readonly v: Float64Array;
  readonly vNext: Float64Array;
  readonly q: Float64Array;
  readonly qOld: Float64Array;
  readonly qNext: Float64Array;
  /** Core linkage by role and section (core-stepper.ts), now and before. */
  readonly flux: Float64Array;
  readonly fluxOld: Float64Array;
  /** Air linkage per section, now and before. */
  readonly air: Float64Array;
  readonly airOld: Float64Array;
  readonly airNext: Float64Array;
  readonly inductance: Float64Array;
  readonly W: Float64Array;
  readonly conductance: Float64Array;
  readonly answerV: readonly [Float64Array, Float64Array];
  readonly answerJ: readonly [Float64Array, Float64Array];
}

export function makeWireState(sections: Sections): WireState {
  const n = sections.count + 1;
  const make = (): Float64Array => new Float64Array(n);
  const by3 = (): Float64Array => new Float64Array(3 * n);
  return {
    sections,
    step: makeLadderStep(sections),
    stride: n,
    jOld: make(),
    j: make(),
    jGuess: make(),
    jNext: make(),
    jMid: make(),
    lag: make(),
    lagOld: make(),
    lagGuess: make(),
    v: make(),
    vNext: make(),
    q: make(),
    qOld: make(),
    qNext: make(),
    flux: by3(),
    fluxOld: by3(),
    air: make(),
    airOld: make(),
    airNext: make(),
    inductance: make(),
    W: make(),
    conductance: make(),
    answerV: [make(), make()],
    answerJ: [make(), make()],
  };
}

/** Extrapolated current at the end of the step, and the mean over it. */
export function predictWire(wire: WireState, d: Difference): void {
  const { j, jOld, jGuess, jMid, lag, lagOld, lagGuess } = wire;
  for (let k = 0; k < wire.sections.count; k++) {
    const guess = j[k]! + d.w * (j[k]! - jOld[k]!);
    jGuess[k] = guess;
    jMid[k] = (j[k]! + guess) / 2;
    lagGuess[k] = lagged(d, guess, lag[k]!, lagOld[k]!);
  }
}

/**
 * What the cores of a driven line induce in it, V, by the step's difference formula, the answer to the wire's own
 * current left out: it is a thousandth of the drive's, and the wire would answer it at once through the capacitance.
 */
export function lineEmf(
  wire: WireState,
  d: Difference,
  line: DriveLine,
  linkage: number,
  slope: Float64Array,
  air: Float64Array,
): number {
  const { stride, lag, lagOld, lagGuess } = wire;
  let emf = d.a0 * linkage + d.a1 * line.linkage + d.a2 * line.linkageOld;
  for (let k = 0; k < air.length; k++) {
    const rate = d.a0 * lagGuess[k]! + d.a1 * lag[k]! + d.a2 * lagOld[k]!;
    // The linkages before hold the air's part, `linkage` does not.
    emf += d.a0 * air[k]! * lagGuess[k]! - (roleSum(slope, stride, k) / d.gain + air[k]!) * rate;
  }
  return emf;
}

/** Linkage of section k with all roles. */
export const roleSum = (values: Float64Array, stride: number, k: number): number =>
  values[k]! + values[stride + k]! + values[2 * stride + k]!;

/** Air linkage of every section at these lagged line currents, A. */
export function setAir(to: Float64Array, c: Coupling, x: number, y: number, inhibit: number): void {
  for (let k = 0; k < c.airX.length; k++)
    to[k] = c.airX[k]! * x + c.airY[k]! * y + c.airInhibit[k]! * inhibit;
}

/**
 * Solves one step of the wire at the predicted line currents: sets vNext, jNext, inductance, conductance, W.
 * @param inhibit inhibit current that enters at the injection nodes, A
 * @param vx,vy voltages of the drive lines (charge pushed in through the coupling capacitance)
 * @param clamp V at the driven nodes; Infinity = none
 */
export function solveWire(
  wire: WireState,
  d: Difference,
  sums: SectionSums,
  coupling: Coupling,
  inhibit: number,
  vx: number,
  vy: number,
  clamp: number,
): void {
  const { sections, step, stride, jGuess, jNext, v, vNext, q, qOld, inductance, W, conductance } = wire;
  const { lag, lagOld, lagGuess } = wire;
  const { a0, a1, a2, gain } = d;
  const n = sections.count;
  for (let k = 0; k < n; k++) {
    const bare = sections.inductance[k]!;
    const ferrite = roleSum(sums.own, stride, k);
    const whole = gain * bare + ferrite;
    inductance[k] = whole;
    W[k] =
      a0 * (bare * lagGuess[k]! + wire.airNext[k]! + roleSum(sums.flux, stride, k) - whole * jGuess[k]!) +
      a1 * (bare * lag[k]! + wire.air[k]! + roleSum(wire.flux, stride, k)) +
      a2 * (bare * lagOld[k]! + wire.airOld[k]! + roleSum(wire.fluxOld, stride, k));
  }
  let clampState = -1;
  for (let tries = 0; tries < 5; tries++) {
    let seenState = 0;
    for (let k = 0; k <= n; k++) {
      let g = sections.conductance[k]!;
      let rhs =
        sections.injection[k]! * inhibit * coupling.inhibited -
        a1 * q[k]! -
        a2 * qOld[k]! +
        a0 * (coupling.chargeX[k]! * vx + coupling.chargeY[k]! * vy);
      if (clamp < Infinity && sections.injection[k] !== 0) {
        const seen = tries === 0 ? v[k]! : vNext[k]!;
        seenState *= 3;
        if (Math.abs(seen) > clamp) {
          seenState += seen > 0 ? 1 : 2;
          g += CLAMP_CONDUCTANCE;
          rhs += CLAMP_CONDUCTANCE * clamp * Math.sign(seen);
        }
      }
      conductance[k] = g;
      wire.qNext[k] = rhs;
    }
    if (seenState === clampState) break;
    clampState = seenState;
    factorLadder(step, sections, a0, inductance, conductance);
    vNext.set(wire.qNext);
    pushSections(step, W, vNext);
    solveLadder(step, vNext, 1);
    if (clamp === Infinity) break;
  }
  for (let k = 0; k < n; k++) jNext[k] = step.inverse[k]! * (vNext[k]! - vNext[k + 1]! - W[k]!);
}

/** Conductance of a clamp that conducts, S. */
export const CLAMP_CONDUCTANCE = 1;

function pushSections(step: LadderStep, W: Float64Array, rhs: Float64Array): void {
  for (let k = 0; k < step.sections; k++) {
    const push = step.inverse[k]! * W[k]!;
    rhs[k]! += push;
    rhs[k + 1]! -= push;
  }
}

/**
 * Drive lines whose current is not prescribed (drive-line.ts): E - R i - D[L lag + linkage] = 0. Every inductance answers the lagged currents,
 * own and mutual alike: were only one of them lagged, the two together could give energy. The wire's answer to one ampere of each line
 * closes the loop; on return the wire and both lines hold the solution at the end of the step.
 * @param guess line currents at which the cores were summed; @param t1 s, end of the step
 */
export function closeLines(
  wire: WireState,
  d: Difference,
  sums: SectionSums,
  coupling: Coupling,
  lines: readonly [DriveLine, DriveLine],
  guess: readonly [number, number],
  t1: number,
): void {
  const { sections, step, stride, jGuess, jNext, vNext, answerV, answerJ, lagGuess } = wire;
  const { a0, a1, a2, gain } = d;
  const n = sections.count;
  const slope = [sums.x, sums.y] as const;
  const air = [coupling.airX, coupling.airY] as const;
  const mutual = (i: 0 | 1, k: number): number => roleSum(slope[i], stride, k) + gain * air[i][k]!;
  for (const i of [0, 1] as const) {
    const V = answerV[i];
    V.fill(0);
    if (!lines[i].solved) continue;
    for (let k = 0; k < n; k++) wire.W[k] = a0 * mutual(i, k);
    pushSections(step, wire.W, V);
    solveLadder(step, V, 1);
    for (let k = 0; k < n; k++) answerJ[i][k] = step.inverse[k]! * (V[k]! - V[k + 1]! - wire.W[k]!);
  }
  // 2 x 2: rows X and Y; a line that is not solved for keeps its current.
  const m = [1, 0, 0, 1];
  const b = [0, 0];
  for (const i of [0, 1] as const) {
    const line = lines[i];
    if (!line.solved) continue;
    const R = line.model.resistance + (line.model.sourceResistance ?? 0);
    const L = line.model.inductance;
    let linkage = sums.line[i]!;
    for (let k = 0; k < n; k++) {
      linkage += air[i][k]! * lagGuess[k]! + mutual(i, k) * (jNext[k]! - jGuess[k]!);
    }
    const own = a0 * lagged(d, guess[i], line.lag, line.lagOld) + a1 * line.lag + a2 * line.lagOld;
    b[i] = line.emf - R * guess[i] - L * own - (a0 * linkage + a1 * line.linkage + a2 * line.linkageOld);
    for (const o of [0, 1] as const) {
      if (!lines[o].solved) continue;
      let back = o === i ? sums.lineSlope[i]! + gain * L : sums.lineSlope[2]!;
      for (let k = 0; k < n; k++) back += mutual(i, k) * answerJ[o][k]!;
      m[2 * i + o] = a0 * back + (o === i ? R : 0);
    }
  }
  const det = m[0]! * m[3]! - m[1]! * m[2]!;
  const change: [number, number] = [
    (b[0]! * m[3]! - m[1]! * b[1]!) / det,
    (m[0]! * b[1]! - m[2]! * b[0]!) / det,
  ];
  // A current that lands stays where it landed; the other line answers to that.
  const lands = [landsAt(lines[0], guess[0] + change[0], t1), landsAt(lines[1], guess[1] + change[1], t1)];
  for (const i of [0, 1] as const) {
    const o = i === 0 ? 1 : 0;
    lines[i].landed = lands[i] !== undefined;
    if (!lines[i].landed) continue;
    const moved = lands[i]! - guess[i];
    if (lands[o] === undefined) change[o] -= (m[2 * o + i]! / m[3 * o]!) * (moved - change[i]);
    change[i] = moved;
  }
  for (const i of [0, 1] as const) {
    if (!lines[i].solved) continue;
    lines[i].next = lands[i] ?? guess[i] + change[i];
    for (let k = 0; k < n; k++) jNext[k]! += change[i] * answerJ[i][k]!;
    for (let k = 0; k <= n; k++) vNext[k]! += change[i] * answerV[i][k]!;
  }
}

/** Linkages and charges at the end of the step as the step demands them; `sums.flux` becomes the new core linkage. */
export function settleWire(
  wire: WireState,
  sums: SectionSums,
  coupling: Coupling,
  dx: number,
  dy: number,
  vx: number,
  vy: number,
): void {
  const { sections, stride, jGuess, jNext, vNext, qNext } = wire;
  for (let role = 0; role < 3; role++)
    for (let k = 0; k < sections.count; k++) {
      const at = role * stride + k;
      sums.flux[at]! += sums.own[at]! * (jNext[k]! - jGuess[k]!) + sums.x[at]! * dx + sums.y[at]! * dy;
    }
  nodeCharge(sections, vNext, qNext, 1);
  for (let k = 0; k <= sections.count; k++)
    qNext[k]! -= coupling.chargeX[k]! * vx + coupling.chargeY[k]! * vy;
}

/** End of step becomes now. */
export function shiftWire(wire: WireState, d: Difference, sums: SectionSums): void {
  const { jNext, jGuess, lagGuess } = wire;
  wire.lagOld.set(wire.lag);
  for (let k = 0; k < wire.sections.count; k++)
    wire.lag[k] = lagGuess[k]! + d.gain * (jNext[k]! - jGuess[k]!);
  wire.jOld.set(wire.j);
  wire.j.set(wire.jNext);
  wire.v.set(wire.vNext);
  wire.qOld.set(wire.q);
  wire.q.set(wire.qNext);
  wire.fluxOld.set(wire.flux);
  wire.flux.set(sums.flux);
  wire.airOld.set(wire.air);
  wire.air.set(wire.airNext);
}
