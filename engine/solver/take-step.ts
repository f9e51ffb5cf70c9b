import { pulseValue } from '../drive/programme.ts';
import { advanceCores } from './core-stepper.ts';
import { lagged, memory, rate, setDifference } from './difference.ts';
import { closeLines } from './close-lines.ts';
import { limitLine, lineVoltage, predictLine, shiftLine, type DriveLine } from './drive-line.ts';
import { copyCurrents, copyLinkages, dot, roleSum, type LineCurrents } from './section-sums.ts';
import { solveWire } from './solve-wire.ts';
import type { StepContext } from './step-context.ts';
import { lineEmf, predictWire, setAir, settleWire, shiftWire } from './wire-state.ts';

/**
 * Act 1: the formula of the step, and the currents at its end as those before let expect them.
 * @param hOld the step before, s, 0 after a slope jump; @param n steps since the slope jump; @param jumpNext the step ends at one
 */
export function predict(step: StepContext, hOld: number, n: number, jumpNext: boolean): void {
  const { difference: d, wire, lineX, lineY, from, to, now, next, guess, lag, cores } = step;
  setDifference(d, to - from, hOld, n, jumpNext);
  predictWire(wire, d);
  predictLine(lineX, from, to, d.w);
  predictLine(lineY, from, to, d.w);
  next.x = lineX.next;
  next.y = lineY.next;
  next.inhibit = pulseValue(step.cycle.programme.inhibit, to);
  copyCurrents(guess, next);
  lag.x = lagged(d, next.x, lineX.lag, lineX.lagPast);
  lag.y = lagged(d, next.y, lineY.lag, lineY.lagPast);
  lag.inhibit = lagged(d, next.inhibit, step.inhibitLag, step.inhibitLagPast);
  setMiddle(cores.mid, now, next);
}

export function setMiddle(mid: LineCurrents, now: LineCurrents, next: LineCurrents): void {
  mid.x = (now.x + next.x) / 2;
  mid.y = (now.y + next.y) / 2;
  mid.inhibit = (now.inhibit + next.inhibit) / 2;
}

/** Act 2: every core at the drive of mid-step, and what all of them link at the predicted end. */
export function moveCores(step: StepContext): void {
  const { problem, state, difference: d, cores, sums } = step;
  cores.h = d.h;
  cores.gain = d.gain;
  advanceCores(problem.classes, state, cores, sums);
}

/** Act 3: the wire at the predicted currents of the lines. */
export function solveWireAtGuess(step: StepContext): void {
  const { wire, difference: d, lineX, lineY, sums, lag } = step;
  const { coupling } = step.cycle;
  setAir(wire.airNext, coupling, lag);
  const rateX = rate(d, lag.x, lineX.lag, lineX.lagPast);
  const rateY = rate(d, lag.y, lineY.lag, lineY.lagPast);
  const vx = lineVoltage(lineX, rateX, lineEmf(wire, d, lineX, sums.linkages.x, sums.x, coupling.airX));
  const vy = lineVoltage(lineY, rateY, lineEmf(wire, d, lineY, sums.linkages.y, sums.y, coupling.airY));
  step.voltageX = limitLine(lineX, vx);
  step.voltageY = limitLine(lineY, vy);
  solveWire(step);
}

/** Act 4: lines whose current is not prescribed, with the wire's answer to them. */
export function solveLines(step: StepContext): void {
  const { difference: d, lineX, lineY } = step;
  if (!lineX.solved && !lineY.solved) return;
  closeLines(step);
  if (d.w > 0) return;
  // After a kink the guess is coarse, and the charge behind the coupling capacitance takes it at its word.
  if (lineX.solved) step.voltageX = lineVoltage(lineX, 0, 0);
  if (lineY.solved) step.voltageY = lineVoltage(lineY, 0, 0);
  solveWire(step);
  closeLines(step);
}

/** Linkages and rates at the currents solved for: the sums were taken at the predicted ones. */
export function settleEnds(step: StepContext): void {
  const { difference: d, lineX, lineY, next, guess, lag } = step;
  next.x = lineX.next;
  next.y = lineY.next;
  lineX.lagNext = lag.x += d.gain * (next.x - guess.x);
  lineY.lagNext = lag.y += d.gain * (next.y - guess.y);
  if (lineX.solved || lineY.solved) setAir(step.wire.airNext, step.cycle.coupling, lag);
  settleWire(step.wire, step.sums, next.x - guess.x, next.y - guess.y);
  settleLinkages(step);
  setRates(step);
}

/** Linkages of the lines at the solved currents. */
export function settleLinkages({ wire, sums, linkages, next, guess }: StepContext): void {
  const { slopes } = sums;
  const dx = next.x - guess.x;
  const dy = next.y - guess.y;
  copyLinkages(linkages, sums.linkages);
  let x = linkages.x + slopes.xx * dx + slopes.xy * dy;
  let y = linkages.y + slopes.yy * dy + slopes.xy * dx;
  let inhibit = linkages.inhibit + slopes.xInhibit * dx + slopes.yInhibit * dy;
  for (let k = 0; k < wire.sections.count; k++) {
    const change = wire.jNext[k]! - wire.jGuess[k]!;
    x += roleSum(sums.x, wire.stride, k) * change;
    y += roleSum(sums.y, wire.stride, k) * change;
    inhibit += roleSum(sums.inhibit, wire.stride, k) * change;
  }
  linkages.x = x;
  linkages.y = y;
  linkages.inhibit = inhibit;
}

function setRates({
  difference: d,
  lineX,
  lineY,
  lag,
  lagRate,
  inhibitLag,
  inhibitLagPast,
}: StepContext): void {
  lagRate.x = rate(d, lag.x, lineX.lag, lineX.lagPast);
  lagRate.y = rate(d, lag.y, lineY.lag, lineY.lagPast);
  lagRate.inhibit = rate(d, lag.inhibit, inhibitLag, inhibitLagPast);
}

/**
 * Act 5: the end of the step becomes now.
 * @returns whether a line's current has a slope jump here that no pulse announced
 */
export function commit(step: StepContext): boolean {
  const { wire, difference: d, lineX, lineY, lag, now, next, linkages } = step;
  const { airX, airY } = step.cycle.coupling;
  shiftWire(wire, d, step.sums, step.voltageX, step.voltageY);
  const shift = (line: DriveLine, linkage: number, air: Float64Array): boolean =>
    shiftLine(line, linkage + dot(air, wire.lag), d);
  const kinkX = shift(lineX, linkages.x, airX);
  const kinkY = shift(lineY, linkages.y, airY);
  step.inhibitLagPast = memory(d, lag.inhibit, step.inhibitLag, step.inhibitLagPast);
  step.inhibitLag = lag.inhibit;
  copyCurrents(now, next);
  return kinkX || kinkY;
}
