import type { Sections } from '../network/sections.ts';
import { DAMPING_INTERVAL } from './difference.ts';

/**
 * The linear part of one implicit step of the ladder. With D[y] = a0 y + (history) the step's difference formula:
 *
 *   section k:  a0 L_k j_k + W_k = v_k - v_{k+1} - R_k j_k
 *   node k:     D[q]_k + G_k v_k = j_{k-1} - j_k + J_k
 *
 * Node charges use the averaged capacitance (1/12, 10/12, 1/12), which takes the ladder's own dispersion from
 * second to fourth order in the section length and still is tridiagonal. Symmetric and positive definite, so
 * elimination needs no pivoting.
 */
export interface LadderStep {
  readonly sections: number;
  /** 1/(a0 L + R), per section. */
  readonly inverse: Float64Array;
  /** Elimination factors: reciprocal pivots and multipliers. */
  readonly pivot: Float64Array;
  readonly lower: Float64Array;
  /** Off-diagonal entry between node k and k + 1. */
  readonly off: Float64Array;
  /** F per section: what of its capacitance counts between its own node and its neighbour in this step. */
  readonly near: Float64Array;
}

/** Share of a section's capacitance at its own node and at its neighbour. */
export const OWN_SHARE = 5 / 12;
export const NEIGHBOUR_SHARE = 1 / 12;
/** What a section gives to each of its nodes in all. */
export const WHOLE_SHARE = OWN_SHARE + NEIGHBOUR_SHARE;

/**
 * Twice the mean error constant of the step's formulas: a step h takes the frequency w of a wave for
 * w (1 + c w^2 h^2), with c = 1/12 in a trapezoidal step and, over a round of DAMPING_INTERVAL steps, a quarter of a step's
 * share more for the one backward step among them (its 2/9, and a third of the 1/12 that it takes back).
 */
const TURN = 2 * (((DAMPING_INTERVAL - 1) / 12 + 1 / 4) / DAMPING_INTERVAL);

/** Of a section's capacitance, at most so much may count between neighbours: from a quarter on some wave has none left. */
export const MAX_NEAR = 0.24;

/**
 * Sets `near` for a step of h: the twelfth that makes the section's length right to fourth order, and what makes good
 * the step's own dispersion. A wave that the step turns too slowly by c w^2 h^2 finds 2 c h^2/L between neighbours and
 * runs faster by as much, so fronts keep their time along the wire.
 * @param inductance of each section with its cores as this step sees them, H; gain: see Difference
 */
export function setNear(
  step: LadderStep,
  sections: Sections,
  h: number,
  gain: number,
  inductance: Float64Array,
): void {
  const { capacitance } = sections;
  const turn = TURN * h * h * gain;
  for (let k = 0; k < step.sections; k++) {
    const C = capacitance[k]!;
    step.near[k] = Math.min(MAX_NEAR * C, NEIGHBOUR_SHARE * C + turn / inductance[k]!);
  }
}

export function makeLadderStep(sections: Sections): LadderStep {
  const n = sections.count;
  return {
    sections: n,
    inverse: new Float64Array(n),
    pivot: new Float64Array(n + 1),
    lower: new Float64Array(n + 1),
    off: new Float64Array(n),
    near: new Float64Array(n),
  };
}

/**
 * Factors the step's matrix and solves it, forward in one pass along the wire and back in another.
 * @param a0 leading coefficient of the difference formula, 1/s
 * @param inductance effective inductance of each section in this step, ferrite included, H
 * @param conductance per node, S
 * @param W per section: what it induces besides a0 L j, V
 * @param mix per node: what the difference formula has of voltages before, V/s
 * @param v currents that enter the nodes, A; on return their voltages, V
 */
export function stepLadder(
  step: LadderStep,
  sections: Sections,
  a0: number,
  inductance: Float64Array,
  conductance: Float64Array,
  W: Float64Array,
  mix: Float64Array,
  v: Float64Array,
): void {
  const { inverse, pivot, lower, off, near } = step;
  const { resistance, capacitance } = sections;
  const n = step.sections;
  // What section k - 1 gives to node k: diagonal and right-hand side; then what elimination carries on.
  let diagonal = 0;
  let gives = 0;
  let multiplier = 0;
  let above = 0;
  let carried = 0;
  let mixed = mix[0]!;
  for (let k = 0; k < n; k++) {
    const next = near[k]!;
    const own = capacitance[k]! * WHOLE_SHARE - next;
    const admittance = 1 / (a0 * inductance[k]! + resistance[k]!);
    const push = admittance * W[k]!;
    const after = mix[k + 1]!;
    const p = 1 / (conductance[k]! + diagonal + a0 * own + admittance - multiplier * above);
    v[k] = carried = v[k]! + gives + push - own * mixed - next * after - multiplier * carried;
    lower[k] = multiplier;
    above = a0 * next - admittance;
    multiplier = above * p;
    inverse[k] = admittance;
    pivot[k] = p;
    off[k] = above;
    diagonal = a0 * own + admittance;
    gives = -push - own * after - next * mixed;
    mixed = after;
  }
  lower[n] = multiplier;
  pivot[n] = 1 / (conductance[n]! + diagonal - multiplier * above);
  let x = (v[n]! + gives - multiplier * carried) * pivot[n]!;
  v[n] = x;
  for (let k = n - 1; k >= 0; k--) v[k] = x = (v[k]! - off[k]! * x) * pivot[k]!;
}

/** Solves the factored step in place for currents that enter the nodes. */
export function solveLadder(step: LadderStep, rhs: Float64Array): void {
  const { pivot, lower, off, sections: n } = step;
  let carried = rhs[0]!;
  for (let k = 1; k <= n; k++) rhs[k] = carried = rhs[k]! - lower[k]! * carried;
  rhs[n] = carried *= pivot[n]!;
  for (let k = n - 1; k >= 0; k--) rhs[k] = carried = (rhs[k]! - off[k]! * carried) * pivot[k]!;
}

/** Node charges q = C v with the averaged capacitance. */
export function nodeCharge({ capacitance, count }: Sections, v: Float64Array, q: Float64Array): void {
  q[0] = 0;
  for (let k = 0; k < count; k++) {
    const own = capacitance[k]! * OWN_SHARE;
    const next = capacitance[k]! * NEIGHBOUR_SHARE;
    q[k]! += own * v[k]! + next * v[k + 1]!;
    q[k + 1] = own * v[k + 1]! + next * v[k]!;
  }
}
