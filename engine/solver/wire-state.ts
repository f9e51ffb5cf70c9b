import type { Coupling } from '../network/coupling.ts';
import { lagged, memory, type Difference } from './difference.ts';
import { landsAt, type DriveLine } from './drive-line.ts';
import type { SectionSums } from './core-stepper.ts';
import { makeLadderStep, setNear, solveLadder, stepLadder, type LadderStep } from './ladder.ts';
import type { Sections } from '../network/sections.ts';

/**
 * The sense wire in time: currents, voltages and linkages now, each with its memory (difference.ts). Arrays per section have
 * one more entry for cores that the wire does not thread (always 0).
 */
export interface WireState {
  readonly sections: Sections;
  readonly step: LadderStep;
  readonly stride: number;
  readonly jOld: Float64Array;
  readonly jOlder: Float64Array;
  readonly j: Float64Array;
  /** Predicted current at the end of the step, and the solved one. */
  readonly jGuess: Float64Array;
  readonly jNext: Float64Array;
  readonly jMid: Float64Array;
  /** Current with the ferrite's lag, which the wire's inductance and the elastic flux answer. */
  readonly lag: Float64Array;
  readonly lagPast: Float64Array;
  readonly lagGuess: Float64Array;
  readonly v: Float64Array;
  readonly vNext: Float64Array;
  readonly vPast: Float64Array;
  readonly vMix: Float64Array;
  /** Voltages of the drive lines: X, its past, Y, its past. */
  readonly push: Float64Array;
  /** Core linkage by role and section (core-stepper.ts), now and before. */
  readonly flux: Float64Array;
  readonly fluxPast: Float64Array;
  /** Air linkage per section, now and before. */
  readonly air: Float64Array;
  readonly airPast: Float64Array;
  readonly airNext: Float64Array;
  readonly inductance: Float64Array;
  readonly W: Float64Array;
  /** S per node, clamps included; +1 or -1 where a clamp conducts. */
  readonly conductance: Float64Array;
  readonly clamped: Float64Array;
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
    jOlder: make(),
    j: make(),
    jGuess: make(),
    jNext: make(),
    jMid: make(),
    lag: make(),
    lagPast: make(),
    lagGuess: make(),
    v: make(),
    vNext: make(),
    vPast: make(),
    vMix: make(),
    push: new Float64Array(4),
    flux: by3(),
    fluxPast: by3(),
    air: make(),
    airPast: make(),
    airNext: make(),
    inductance: make(),
    W: make(),
    conductance: sections.conductance.slice(),
    clamped: make(),
    answerV: [make(), make()],
    answerJ: [make(), make()],
  };
}

/**
 * Extrapolated current at the end of the step, and the mean over it. The slope is taken over the two steps before: over
 * one alone, what turns over from step to step would drive the cores at twice its size and keep itself alive.
 */
export function predictWire(wire: WireState, d: Difference): void {
  const { j, jGuess, jMid, lag, lagPast, lagGuess } = wire;
  const from = d.reach > 0 ? wire.jOlder : wire.jOld;
  const ratio = d.reach > 0 ? d.reach : d.w;
  for (let k = 0; k < wire.sections.count; k++) {
    const guess = j[k]! + ratio * (j[k]! - from[k]!);
    jGuess[k] = guess;
    jMid[k] = (j[k]! + guess) / 2;
    lagGuess[k] = lagged(d, guess, lag[k]!, lagPast[k]!);
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
  const { stride, lag, lagPast, lagGuess } = wire;
  let emf = d.a0 * linkage + d.a1 * line.linkage + d.a2 * line.linkagePast;
  for (let k = 0; k < air.length; k++) {
    const rate = d.a0 * lagGuess[k]! + d.a1 * lag[k]! + d.a2 * lagPast[k]!;
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
  const { sections, step, stride, jGuess, jNext, v, vNext, vPast, vMix, push, inductance, W } = wire;
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
  setNear(step, sections, d.h, gain, inductance);
  const pushX = a0 * vx + a1 * push[0]! + a2 * push[1]!;
  const pushY = a0 * vy + a1 * push[2]! + a2 * push[3]!;
  const injected = inhibit * coupling.inhibited;
  let state = setClamps(wire, v, clamp);
  for (let tries = 0; tries < 5; tries++) {
    enterNodes(wire, coupling, injected, pushX, pushY, clamp);
    stepLadder(step, sections, a0, inductance, wire.conductance, W, vMix, vNext);
    if (clamp === Infinity) break;
    const before = state;
    state = setClamps(wire, vNext, clamp);
    if (state === before) break;
  }
  for (let k = 0; k < n; k++) jNext[k] = step.inverse[k]! * (vNext[k]! - vNext[k + 1]! - W[k]!);
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

/** Sets vNext to the currents that enter the nodes, A: injected, through the coupling capacitance, behind clamps. */
function enterNodes(
  { sections, clamped, vNext }: WireState,
  { chargeX, chargeY }: Coupling,
  injected: number,
  pushX: number,
  pushY: number,
  clamp: number,
): void {
  for (let k = 0; k <= sections.count; k++)
    vNext[k] = sections.injection[k]! * injected + chargeX[k]! * pushX + chargeY[k]! * pushY;
  if (clamp === Infinity) return;
  for (let k = 0; k <= sections.count; k++) vNext[k]! += CLAMP_CONDUCTANCE * clamp * clamped[k]!;
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
    solveLadder(step, V);
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
    const own = a0 * lagged(d, guess[i], line.lag, line.lagPast) + a1 * line.lag + a2 * line.lagPast;
    b[i] = line.emf - R * guess[i] - L * own - (a0 * linkage + a1 * line.linkage + a2 * line.linkagePast);
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

/** Core linkages at the end of the step as the step demands them: `sums.flux` becomes the new core linkage. */
export function settleWire(wire: WireState, sums: SectionSums, dx: number, dy: number): void {
  const { sections, stride, jGuess, jNext } = wire;
  const { flux, own, x, y } = sums;
  for (let k = 0, k1 = stride, k2 = 2 * stride; k < sections.count; k++, k1++, k2++) {
    const change = jNext[k]! - jGuess[k]!;
    flux[k]! += own[k]! * change + x[k]! * dx + y[k]! * dy;
    flux[k1]! += own[k1]! * change + x[k1]! * dx + y[k1]! * dy;
    flux[k2]! += own[k2]! * change + x[k2]! * dx + y[k2]! * dy;
  }
}

/** End of step becomes now. */
export function shiftWire(wire: WireState, d: Difference, sums: SectionSums, vx: number, vy: number): void {
  const { push, j, jOld, jOlder, jNext, jGuess, lag, lagPast, lagGuess } = wire;
  push[1] = memory(d, vx, push[0]!, push[1]!);
  push[0] = vx;
  push[3] = memory(d, vy, push[2]!, push[3]!);
  push[2] = vy;
  for (let k = 0; k < wire.sections.count; k++) {
    const current = jNext[k]!;
    const next = lagGuess[k]! + d.gain * (current - jGuess[k]!);
    lagPast[k] = memory(d, next, lag[k]!, lagPast[k]!);
    lag[k] = next;
    jOlder[k] = jOld[k]!;
    jOld[k] = j[k]!;
    j[k] = current;
  }
  advance(d, wire.v, wire.vPast, wire.vNext);
  advance(d, wire.flux, wire.fluxPast, sums.flux);
  advance(d, wire.air, wire.airPast, wire.airNext);
}

function advance(d: Difference, now: Float64Array, past: Float64Array, next: Float64Array): void {
  const { a0, a1, a2, keepsRate } = d;
  for (let k = 0; k < now.length; k++) {
    const value = next[k]!;
    past[k] = keepsRate ? a0 * value + a1 * now[k]! + a2 * past[k]! : now[k]!;
    now[k] = value;
  }
}
