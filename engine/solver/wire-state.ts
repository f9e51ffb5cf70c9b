import type { Coupling } from '../network/coupling.ts';
import type { Sections } from '../network/sections.ts';
import { lagged, memory, rate, type Difference } from './difference.ts';
import type { DriveLine } from './drive-line.ts';
import { makeLadderStep, type LadderStep } from './ladder.ts';
import { roleSum, type LineCurrents, type SectionSums } from './section-sums.ts';

/**
 * The sense wire in time: currents, voltages and linkages now, each with its memory (difference.ts). Arrays per section have
 * one more entry for cores that the wire does not thread (always 0).
 */
export interface WireState {
  readonly sections: Sections;
  readonly ladder: LadderStep;
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
  /** Voltages of the drive lines, V, each with its memory: they push charge in through the coupling capacitance. */
  readonly push: LineVoltages;
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

export interface LineVoltages {
  x: number;
  xPast: number;
  y: number;
  yPast: number;
}

export function makeWireState(sections: Sections): WireState {
  const n = sections.count + 1;
  const make = (): Float64Array => new Float64Array(n);
  const by3 = (): Float64Array => new Float64Array(3 * n);
  return {
    sections,
    ladder: makeLadderStep(sections),
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
    push: { x: 0, xPast: 0, y: 0, yPast: 0 },
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
  let emf = rate(d, linkage, line.linkage, line.linkagePast);
  for (let k = 0; k < air.length; k++) {
    const own = rate(d, lagGuess[k]!, lag[k]!, lagPast[k]!);
    // The linkages before hold the air's part, `linkage` does not.
    emf += d.a0 * air[k]! * lagGuess[k]! - (roleSum(slope, stride, k) / d.gain + air[k]!) * own;
  }
  return emf;
}

/** Air linkage of every section at these lagged line currents, A. */
export function setAir(to: Float64Array, c: Coupling, { x, y, inhibit }: LineCurrents): void {
  for (let k = 0; k < c.airX.length; k++)
    to[k] = c.airX[k]! * x + c.airY[k]! * y + c.airInhibit[k]! * inhibit;
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
  push.xPast = memory(d, vx, push.x, push.xPast);
  push.x = vx;
  push.yPast = memory(d, vy, push.y, push.yPast);
  push.y = vy;
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
