import { lagged } from './difference.ts';
import { landsAt } from './drive-line.ts';
import { solveLadder, type LadderStep } from './ladder.ts';
import { roleSum } from './section-sums.ts';
import type { StepContext } from './step-context.ts';

/**
 * Drive lines whose current is not prescribed (drive-line.ts): E - R i - D[L lag + linkage] = 0. Every inductance answers the lagged currents,
 * own and mutual alike: were only one of them lagged, the two together could give energy. The wire's answer to one ampere of each line
 * closes the loop; on return the wire and both lines hold the solution at the end of the step.
 */
export function closeLines(step: StepContext): void {
  const { wire, difference: d, sums, lineX, lineY, to: t1 } = step;
  const { coupling } = step.cycle;
  const lines = [lineX, lineY] as const;
  const guess = [step.guess.x, step.guess.y] as const;
  const linkages = [sums.linkages.x, sums.linkages.y] as const;
  const selfSlope = [sums.slopes.xx, sums.slopes.yy] as const;
  const { sections, ladder, stride, jGuess, jNext, vNext, answerV, answerJ, lagGuess } = wire;
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
    pushSections(ladder, wire.W, V);
    solveLadder(ladder, V);
    for (let k = 0; k < n; k++) answerJ[i][k] = ladder.inverse[k]! * (V[k]! - V[k + 1]! - wire.W[k]!);
  }
  // 2 x 2: rows X and Y; a line that is not solved for keeps its current.
  const m = [1, 0, 0, 1];
  const b = [0, 0];
  for (const i of [0, 1] as const) {
    const line = lines[i];
    if (!line.solved) continue;
    const R = line.model.resistance + (line.model.sourceResistance ?? 0);
    const L = line.model.inductance;
    let linkage = linkages[i];
    for (let k = 0; k < n; k++) {
      linkage += air[i][k]! * lagGuess[k]! + mutual(i, k) * (jNext[k]! - jGuess[k]!);
    }
    const own = a0 * lagged(d, guess[i], line.lag, line.lagPast) + a1 * line.lag + a2 * line.lagPast;
    b[i] = line.emf - R * guess[i] - L * own - (a0 * linkage + a1 * line.linkage + a2 * line.linkagePast);
    for (const o of [0, 1] as const) {
      if (!lines[o].solved) continue;
      let back = o === i ? selfSlope[i] + gain * L : sums.slopes.xy;
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
    lines[i].free = guess[i] + change[i];
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

function pushSections(ladder: LadderStep, W: Float64Array, rhs: Float64Array): void {
  for (let k = 0; k < ladder.sections; k++) {
    const push = ladder.inverse[k]! * W[k]!;
    rhs[k]! += push;
    rhs[k + 1]! -= push;
  }
}
