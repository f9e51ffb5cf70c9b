import { shiftLine } from '../drive-line.ts';
import { copyCurrents, dot, roleSum } from '../section-sums.ts';
import type { StepContext } from '../step-context.ts';
import { settleLinkages } from '../take-step.ts';
import { setAir } from '../wire-state.ts';
import type { LongWire } from './long-wire.ts';

/**
 * Linkages at the currents that came, and the wire's state at the end as the books and `commitCoreStep` want it.
 * @param wireStep s
 */
export function settle(long: LongWire, step: StepContext, wireStep: number): void {
  const { wire, sums, difference } = step;
  const { jGuess, jNext, lagGuess, vNext, sections, stride } = wire;
  const { inductance, resistance, lossTime, count } = sections;
  jGuess.set(lagGuess);
  jNext.set(long.lag);
  settleFlux(step);
  settleLinkages(step);
  vNext.set(long.v);
  setAir(wire.airNext, step.cycle.coupling, step.lag);
  const { mean, slope } = long.emf;
  if (step.problem.balance) setAreas(long, step, wireStep);
  const half = difference.h / 2;
  for (let k = 0; k < count; k++) {
    const late = lossTime / (inductance[k]! + roleSum(sums.own, stride, k));
    const across = vNext[k]! - vNext[k + 1]! - mean[k]! - half * slope[k]!;
    const current = (long.lag[k]! + late * across) / (1 + late * resistance[k]!);
    jNext[k] = jGuess[k] = current;
    lagGuess[k] = long.lag[k]!;
  }
}

/** Core linkages at the currents that came; those of the lines are prescribed and were right (wire-state.ts, `settleWire`). */
function settleFlux({ wire, sums }: StepContext): void {
  const { stride, jGuess, jNext, sections } = wire;
  const { flux, own } = sums;
  for (let k = 0, k1 = stride, k2 = 2 * stride; k < sections.count; k++, k1++, k2++) {
    const change = jNext[k]! - jGuess[k]!;
    flux[k]! += own[k]! * change;
    flux[k1]! += own[k1]! * change;
    flux[k2]! += own[k2]! * change;
  }
}

/** The EMF's integral over the core step, V s, by the voltages at the instants of the wire's steps. */
function setAreas({ lag, within }: LongWire, step: StepContext, wireStep: number): void {
  const { wire, difference } = step;
  const { v, vNext, sections } = wire;
  const areas = (step.areas ??= new Float64Array(sections.count));
  for (let k = 0; k < sections.count; k++) {
    const change = lag[k]! - wire.lag[k]!;
    const flown = ((lag[k]! + wire.lag[k]!) / 2) * difference.h + sections.lossTime * change;
    const drops = within[k]! - within[k + 1]! + (v[k]! - v[k + 1]! + vNext[k]! - vNext[k + 1]!) / 2;
    areas[k] = wireStep * drops - sections.resistance[k]! * flown;
  }
}

/** The end of the core step becomes now; other than in the coupled loop no formula looks further back (take-step.ts, `commit`). */
export function commitCoreStep(step: StepContext): void {
  const { wire, sums, difference, lineX, lineY, linkages, lag, now, next } = step;
  const { airX, airY } = step.cycle.coupling;
  wire.push.x = step.voltageX;
  wire.push.y = step.voltageY;
  wire.lag.set(wire.lagGuess);
  wire.j.set(wire.jNext);
  wire.v.set(wire.vNext);
  wire.flux.set(sums.flux);
  wire.air.set(wire.airNext);
  shiftLine(lineX, linkages.x + dot(airX, wire.lag), difference);
  shiftLine(lineY, linkages.y + dot(airY, wire.lag), difference);
  step.inhibitLag = lag.inhibit;
  copyCurrents(now, next);
}

/** Before its end becomes now. */
export function remember(long: LongWire, { wire }: StepContext, length: number): void {
  const { lagOld, lagOlder } = long;
  lagOlder.set(wire.lag);
  long.lagOld = lagOlder;
  long.lagOlder = lagOld;
  long.beforeThat = long.before;
  long.before = length;
}
