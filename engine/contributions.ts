import { HALF_SELECTED, SELECTED, UNSELECTED } from './core-classes.ts';
import type { Coupling } from './coupling.ts';
import type { SectionSums } from './core-stepper.ts';
import { nodeCharge, solveLadder } from './ladder.ts';
import { CLAMP_CONDUCTANCE, type Difference, type WireState } from './wire-state.ts';

/** The five causes, in the order of CONTRIBUTIONS. */
const DIRECT = 0;
const REVERSIBLE = 1;
const IRREVERSIBLE = 2;
const CORE = 3;
const INHIBIT = 4;
export const PARTS = 5 as const;

/**
 * Splits the wire's voltage by cause. Once a step of the coupled run is solved, its inductances are frozen and the
 * step is linear in its sources, so each cause runs through the same factored ladder with its own share:
 * L D[lag_p] + E_p = e_p, lag_p the part's current with the ferrite's lag. The shares E_p sum to what the coupled step had, hence the voltages sum to its voltage.
 */
export interface Split {
  /** Current of every section by cause, with the ferrite's lag. */
  readonly lag: Float64Array;
  readonly lagOld: Float64Array;
  /** Voltage of every node by cause: node * PARTS + part. */
  readonly v: Float64Array;
  readonly q: Float64Array;
  readonly qOld: Float64Array;
  readonly W: Float64Array;
  readonly rhs: Float64Array;
}

export function makeSplit(nodes: number): Split {
  const make = (): Float64Array => new Float64Array(nodes * PARTS);
  return { lag: make(), lagOld: make(), v: make(), q: make(), qOld: make(), W: make(), rhs: make() };
}

/** At the start of the observed cycle, what still flows from earlier cycles is the inhibit's tail. */
export function beginSplit(split: Split, wire: WireState): void {
  for (let k = 0; k <= wire.sections.count; k++) {
    split.lag[k * PARTS + INHIBIT] = wire.lag[k]!;
    split.v[k * PARTS + INHIBIT] = wire.v[k]!;
  }
  nodeCharge(wire.sections, split.v, split.q, PARTS);
}

/** Rates of the lagged line currents (X, Y, separate inhibit), A/s; inhibit current, A; line voltages, V. */
export interface StepSources {
  inhibitRate: number;
  xRate: number;
  yRate: number;
  inhibit: number;
  vx: number;
  vy: number;
}

export const makeStepSources = (): StepSources => ({
  xRate: 0,
  yRate: 0,
  inhibitRate: 0,
  inhibit: 0,
  vx: 0,
  vy: 0,
});

/** Advances the split by the step just solved (after settleWire, before shiftWire). */
export function advanceSplit(
  split: Split,
  wire: WireState,
  d: Difference,
  sums: SectionSums,
  coupling: Coupling,
  sources: StepSources,
  clamp: number,
): void {
  const { sections, step, stride, jNext, jGuess, lagGuess, lag, lagOld, flux, fluxOld, inductance } = wire;
  const { a0, a1, a2, gain, lossTime } = d;
  const { W, rhs } = split;
  const n = sections.count;

  const { q, qOld, lag: lags, lagOld: lagsOld } = split;
  for (let i = 0; i < rhs.length; i++) rhs[i] = -a1 * q[i]! - a2 * qOld[i]!;
  for (let k = 0; k <= n; k++) {
    const at = k * PARTS;
    rhs[at + DIRECT]! += a0 * (coupling.chargeX[k]! * sources.vx + coupling.chargeY[k]! * sources.vy);
    rhs[at + INHIBIT]! += sections.injection[k]! * sources.inhibit * coupling.inhibited;
    if (wire.conductance[k]! !== sections.conductance[k]!)
      rhs[at + INHIBIT]! += CLAMP_CONDUCTANCE * clamp * Math.sign(wire.vNext[k]!);
  }
  for (let k = 0; k < n; k++) {
    const end = lagGuess[k]! + gain * (jNext[k]! - jGuess[k]!);
    const rate = (a0 * end + a1 * lag[k]! + a2 * lagOld[k]!) / gain;
    const sel = SELECTED * stride + k;
    const half = HALF_SELECTED * stride + k;
    const rest = UNSELECTED * stride + k;
    // What the cores of a role induce beyond their share of the wire's own inductance.
    const emfSelected = a0 * sums.flux[sel]! + a1 * flux[sel]! + a2 * fluxOld[sel]! - sums.own[sel]! * rate;
    const emfHalf = a0 * sums.flux[half]! + a1 * flux[half]! + a2 * fluxOld[half]! - sums.own[half]! * rate;
    const emfRest = a0 * sums.flux[rest]! + a1 * flux[rest]! + a2 * fluxOld[rest]! - sums.own[rest]! * rate;
    // Slopes carry the step's gain; rates of lagged currents are divided by it.
    const inhibitedHalf = (sums.inhibit[half]! * sources.inhibitRate) / gain;
    const inhibitedSelected = (sums.inhibit[sel]! * sources.inhibitRate) / gain;
    const reversible = (sums.x[half]! * sources.xRate + sums.y[half]! * sources.yRate) / gain;
    const L1 = inductance[k]! * a1;
    const L2 = inductance[k]! * a2;
    const push = step.inverse[k]!;
    const at = k * PARTS;
    const inhibit =
      emfRest + inhibitedHalf + inhibitedSelected + coupling.airInhibit[k]! * sources.inhibitRate;
    // One statement a cause: this is the innermost loop.
    const w0 =
      coupling.airX[k]! * sources.xRate +
      coupling.airY[k]! * sources.yRate +
      L1 * lags[at]! +
      L2 * lagsOld[at]!;
    const w1 = reversible + L1 * lags[at + 1]! + L2 * lagsOld[at + 1]!;
    const w2 = emfHalf - reversible - inhibitedHalf + L1 * lags[at + 2]! + L2 * lagsOld[at + 2]!;
    const w3 = emfSelected - inhibitedSelected + L1 * lags[at + 3]! + L2 * lagsOld[at + 3]!;
    const w4 = inhibit + L1 * lags[at + 4]! + L2 * lagsOld[at + 4]!;
    W[at + DIRECT] = w0;
    W[at + REVERSIBLE] = w1;
    W[at + IRREVERSIBLE] = w2;
    W[at + CORE] = w3;
    W[at + INHIBIT] = w4;
    rhs[at]! += push * w0;
    rhs[at + 1]! += push * w1;
    rhs[at + 2]! += push * w2;
    rhs[at + 3]! += push * w3;
    rhs[at + 4]! += push * w4;
    rhs[at + 5]! -= push * w0;
    rhs[at + 6]! -= push * w1;
    rhs[at + 7]! -= push * w2;
    rhs[at + 8]! -= push * w3;
    rhs[at + 9]! -= push * w4;
  }
  solveLadder(step, rhs, PARTS);
  split.v.set(rhs);
  for (let k = 0; k < n; k++) {
    const at = k * PARTS;
    const inverse = step.inverse[k]!;
    for (let i = at; i < at + PARTS; i++) {
      const current = inverse * (rhs[i]! - rhs[i + PARTS]! - W[i]!);
      const now = lags[i]!;
      lags[i] = gain * (current - lossTime * (a1 * now + a2 * lagsOld[i]!));
      lagsOld[i] = now;
    }
  }
  qOld.set(q);
  nodeCharge(sections, split.v, q, PARTS);
  for (let k = 0; k <= n; k++)
    q[k * PARTS + DIRECT]! -= coupling.chargeX[k]! * sources.vx + coupling.chargeY[k]! * sources.vy;
}
