import type { Sections } from './network.ts';

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
}

export function makeLadderStep(sections: Sections): LadderStep {
  const n = sections.count;
  return {
    sections: n,
    inverse: new Float64Array(n),
    pivot: new Float64Array(n + 1),
    lower: new Float64Array(n + 1),
    off: new Float64Array(n),
  };
}

/** Share of a section's capacitance at its own node and at its neighbour. */
export const OWN_SHARE = 5 / 12;
export const NEIGHBOUR_SHARE = 1 / 12;

/**
 * Factors the step's matrix.
 * @param a0 leading coefficient of the difference formula, 1/s
 * @param inductance effective inductance of each section in this step, ferrite included, H
 * @param conductance per node, S
 */
export function factorLadder(
  step: LadderStep,
  sections: Sections,
  a0: number,
  inductance: Float64Array,
  conductance: Float64Array,
): void {
  const { inverse, pivot, lower, off } = step;
  const { resistance, capacitance } = sections;
  const n = step.sections;
  let carried = 0; // diagonal share that section k - 1 gives to node k
  let previousPivot = 0;
  for (let k = 0; k < n; k++) {
    const admittance = 1 / (a0 * inductance[k]! + resistance[k]!);
    inverse[k] = admittance;
    const own = a0 * capacitance[k]! * OWN_SHARE + admittance;
    const o = a0 * capacitance[k]! * NEIGHBOUR_SHARE - admittance;
    let diagonal = conductance[k]! + carried + own;
    if (k > 0) {
      const m = off[k - 1]! * previousPivot;
      lower[k] = m;
      diagonal -= m * off[k - 1]!;
    }
    off[k] = o;
    previousPivot = 1 / diagonal;
    pivot[k] = previousPivot;
    carried = own;
  }
  const m = off[n - 1]! * previousPivot;
  lower[n] = m;
  pivot[n] = 1 / (conductance[n]! + carried - m * off[n - 1]!);
}

/** Solves in place for `width` interleaved right-hand sides, 1 or 5: entry node * width + i. */
export function solveLadder(step: LadderStep, rhs: Float64Array, width: 1 | 5): void {
  if (width === 1) solveOne(step, rhs);
  else solveFive(step, rhs);
}

function solveOne(step: LadderStep, rhs: Float64Array): void {
  const { pivot, lower, off, sections: n } = step;
  let carried = rhs[0]!;
  for (let k = 1; k <= n; k++) rhs[k] = carried = rhs[k]! - lower[k]! * carried;
  rhs[n] = carried *= pivot[n]!;
  for (let k = n - 1; k >= 0; k--) rhs[k] = carried = (rhs[k]! - off[k]! * carried) * pivot[k]!;
}

/** The same for five at once, unrolled: the five chains run side by side in the processor. */
function solveFive(step: LadderStep, rhs: Float64Array): void {
  const { pivot, lower, off, sections: n } = step;
  let r0 = rhs[0]!;
  let r1 = rhs[1]!;
  let r2 = rhs[2]!;
  let r3 = rhs[3]!;
  let r4 = rhs[4]!;
  for (let k = 1, i = 5; k <= n; k++, i += 5) {
    const m = lower[k]!;
    rhs[i] = r0 = rhs[i]! - m * r0;
    rhs[i + 1] = r1 = rhs[i + 1]! - m * r1;
    rhs[i + 2] = r2 = rhs[i + 2]! - m * r2;
    rhs[i + 3] = r3 = rhs[i + 3]! - m * r3;
    rhs[i + 4] = r4 = rhs[i + 4]! - m * r4;
  }
  r0 = r1 = r2 = r3 = r4 = 0;
  for (let k = n, i = 5 * n; k >= 0; k--, i -= 5) {
    const o = k === n ? 0 : off[k]!;
    const p = pivot[k]!;
    rhs[i] = r0 = (rhs[i]! - o * r0) * p;
    rhs[i + 1] = r1 = (rhs[i + 1]! - o * r1) * p;
    rhs[i + 2] = r2 = (rhs[i + 2]! - o * r2) * p;
    rhs[i + 3] = r3 = (rhs[i + 3]! - o * r3) * p;
    rhs[i + 4] = r4 = (rhs[i + 4]! - o * r4) * p;
  }
}

/** Node charges q = C v with the averaged capacitance, for `width` interleaved vectors. */
export function nodeCharge(sections: Sections, v: Float64Array, q: Float64Array, width: number): void {
  const { capacitance, count } = sections;
  const last = count * width;
  for (let i = 0; i < width; i++) q[i] = 0;
  for (let k = 0, at = 0; at < last; k++, at += width) {
    const own = capacitance[k]! * OWN_SHARE;
    const next = capacitance[k]! * NEIGHBOUR_SHARE;
    for (let i = at; i < at + width; i++) {
      const a = v[i]!;
      const b = v[i + width]!;
      q[i]! += own * a + next * b;
      q[i + width] = own * b + next * a;
    }
  }
}
