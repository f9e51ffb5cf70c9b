import type { Coupling } from '../network/coupling.ts';
import { lagged, rate } from './difference.ts';
import { landsAt, type DriveLine } from './drive-line.ts';
import { solveLadder, type LadderStep } from './ladder.ts';
import { roleSum } from './section-sums.ts';
import type { StepContext } from './step-context.ts';
import type { WireAnswer } from './wire-state.ts';

/**
 * Solves for the currents of drive lines that are not prescribed (drive-line.ts), at the end of the step, with all that
 * answers them linearised about the guess:
 *
 *     E - R i - D[L lag + linkage] = 0          E: V of the source or the clamp; linkage: of the line with cores and air, Wb
 *
 * Every inductance answers the lagged currents, own and mutual alike: were only one of them lagged, the two together could
 * give energy. The wire's answer to one ampere of each line closes the loop. On return the wire and both lines hold the
 * solution.
 */
export function closeLines(step: StepContext): void {
  const { wire, lineX, lineY, sums, difference, guess, to } = step;
  const { answerX, answerY } = wire;
  const { coupling } = step.cycle;
  setMutual(step, answerX, sums.x, coupling.airX);
  setMutual(step, answerY, sums.y, coupling.airY);
  if (lineX.solved) answerOneAmpere(step, answerX);
  if (lineY.solved) answerOneAmpere(step, answerY);

  // 2 x 2, V per A: rows are lines, columns their currents; a line that is not solved for keeps its current.
  const { a0 } = difference;
  const { xx, yy, xy } = sums.slopes;
  const both = lineX.solved && lineY.solved;
  const ofX = lineX.solved ? ownOhms(step, lineX, xx) + a0 * sumOver(answerX.mutual, answerX.j) : 1;
  const ofY = lineY.solved ? ownOhms(step, lineY, yy) + a0 * sumOver(answerY.mutual, answerY.j) : 1;
  const xByY = both ? a0 * (xy + sumOver(answerX.mutual, answerY.j)) : 0;
  const yByX = both ? a0 * (xy + sumOver(answerY.mutual, answerX.j)) : 0;
  const missX = lineX.solved ? missing(step, lineX, 'x') : 0;
  const missY = lineY.solved ? missing(step, lineY, 'y') : 0;
  const determinant = ofX * ofY - xByY * yByX;
  let changeX = (missX * ofY - xByY * missY) / determinant;
  let changeY = (ofX * missY - yByX * missX) / determinant;

  lineX.free = guess.x + changeX;
  lineY.free = guess.y + changeY;
  // A current that lands stays where it landed; the other line answers to that.
  const landX = landsAt(lineX, lineX.free, to);
  const landY = landsAt(lineY, lineY.free, to);
  lineX.landed = landX !== undefined;
  lineY.landed = landY !== undefined;
  if (landX !== undefined && landY === undefined) changeY -= (yByX / ofY) * (landX - guess.x - changeX);
  if (landY !== undefined && landX === undefined) changeX -= (xByY / ofX) * (landY - guess.y - changeY);
  if (landX !== undefined) changeX = landX - guess.x;
  if (landY !== undefined) changeY = landY - guess.y;
  if (lineX.solved) applyChange(step, lineX, answerX, landX ?? guess.x + changeX, changeX);
  if (lineY.solved) applyChange(step, lineY, answerY, landY ?? guess.y + changeY, changeY);
}

/** H of every section with the line: through cores, and through air, where the wire's current lags. */
function setMutual(
  { wire, difference }: StepContext,
  to: WireAnswer,
  slope: Float64Array,
  air: Float64Array,
): void {
  for (let k = 0; k < air.length; k++)
    to.mutual[k] = roleSum(slope, wire.stride, k) + difference.gain * air[k]!;
}

/** What the wire does when the line's current at the end of the step is one ampere more: V per A and A per A. */
function answerOneAmpere({ wire, difference }: StepContext, { v, j, mutual }: WireAnswer): void {
  const { ladder, W } = wire;
  v.fill(0);
  for (let k = 0; k < ladder.sections; k++) W[k] = difference.a0 * mutual[k]!;
  pushSections(ladder, W, v);
  solveLadder(ladder, v);
  for (let k = 0; k < ladder.sections; k++) j[k] = ladder.inverse[k]! * (v[k]! - v[k + 1]! - W[k]!);
}

function pushSections(ladder: LadderStep, W: Float64Array, rhs: Float64Array): void {
  for (let k = 0; k < ladder.sections; k++) {
    const push = ladder.inverse[k]! * W[k]!;
    rhs[k]! += push;
    rhs[k + 1]! -= push;
  }
}

const loopResistance = ({ model }: DriveLine): number => model.resistance + (model.sourceResistance ?? 0);

/** Ohm: the line's own answer to its current, `slope` H of it through its cores. */
function ownOhms({ difference: d }: StepContext, line: DriveLine, slope: number): number {
  return loopResistance(line) + d.a0 * (slope + d.gain * line.model.inductance);
}

/** V that the line's equation misses at the guess, the wire as solved at the guess. */
function missing(step: StepContext, line: DriveLine, name: 'x' | 'y'): number {
  const { difference: d, wire, sums } = step;
  const { jGuess, jNext, lagGuess } = wire;
  const { mutual } = name === 'x' ? wire.answerX : wire.answerY;
  const air = airOf(step.cycle.coupling, name);
  const current = step.guess[name];
  let linkage = sums.linkages[name];
  for (let k = 0; k < air.length; k++)
    linkage += air[k]! * lagGuess[k]! + mutual[k]! * (jNext[k]! - jGuess[k]!);
  const ownRate = rate(d, lagged(d, current, line.lag, line.lagPast), line.lag, line.lagPast);
  return (
    line.emf -
    loopResistance(line) * current -
    line.model.inductance * ownRate -
    rate(d, linkage, line.linkage, line.linkagePast)
  );
}

const airOf = ({ airX, airY }: Coupling, name: 'x' | 'y'): Float64Array => (name === 'x' ? airX : airY);

function sumOver(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}

function applyChange(
  { wire }: StepContext,
  line: DriveLine,
  { v, j }: WireAnswer,
  next: number,
  change: number,
): void {
  line.next = next;
  for (let k = 0; k < wire.sections.count; k++) wire.jNext[k]! += change * j[k]!;
  for (let k = 0; k <= wire.sections.count; k++) wire.vNext[k]! += change * v[k]!;
}
