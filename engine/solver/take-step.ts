import { moveCores, setLineVoltages, solveWireAtGuess } from './act-at-guess.ts';
import { memory, rate } from './difference.ts';
import { settleGuess } from './settle-guess.ts';
import { settleLanding } from './settle-landing.ts';
import { mayGiveWay, shiftLine, type DriveLine } from './drive-line.ts';
import { copyCurrents, copyLinkages, dot, roleSum } from './section-sums.ts';
import { forget } from './steep-cores.ts';
import type { StepContext } from './step-context.ts';
import { setAir, settleWire, shiftWire } from './wire-state.ts';

/**
 * Acts 2 to 4: cores, wire and lines at the end of the step. Where no line can give way the lines follow their programme
 * and one pass does; else the three are settled together (settle-guess.ts).
 */
export function solve(step: StepContext): void {
  const { difference: d, lineX, lineY, next, guess, lag } = step;
  if (step.problem.tight || mayGiveWay(lineX) || mayGiveWay(lineY)) {
    let settled = settleGuess(step);
    if (lineX.landed || lineY.landed) settled = settleLanding(step);
    if (!settled) step.unsettledAt ??= step.to;
    next.x = lineX.next;
    next.y = lineY.next;
  } else {
    moveCores(step);
    setLineVoltages(step);
    solveWireAtGuess(step);
  }
  lineX.lagNext = lag.x += d.gain * (next.x - guess.x);
  lineY.lagNext = lag.y += d.gain * (next.y - guess.y);
  if (lineX.solved || lineY.solved) setAir(step.wire.airNext, step.cycle.coupling, lag);
  settleWire(step.wire, step.sums, next.x - guess.x, next.y - guess.y);
  settleLinkages(step);
  setRates(step);
}

/** Linkages of the lines at the solved currents: the sums were taken at the predicted ones. */
function settleLinkages({ wire, sums, linkages, next, guess }: StepContext): void {
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
  forget(step.trial);
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
