import type { Coupling } from '../network/coupling.ts';
import { memory, rate, type Difference } from './difference.ts';
import { beginClosure, closureLeft, makeFluxClosure, type FluxClosure } from './flux-closure.ts';
import { jumpHeat, nothingBefore, restingLoss, storedEnergy } from './energy-state.ts';
import type { EnergyBalance } from './result.ts';
import { copyCurrents, copyLinkages, dot, noCurrents, roleSum, type LineCurrents } from './section-sums.ts';
import { CLAMP_CONDUCTANCE } from './solve-wire.ts';
import type { StepContext } from './step-context.ts';

/**
 * Energy of the observed cycle, J: work of the drivers (also through the coupling capacitance) and of magnets, against
 * heat, field and charge energy, and the integral of F d(lambda) over all cores. Source power is taken from the
 * step's own EMF, core work from linkage differences: two different quadratures of second order, so the residual
 * measures the method and falls with the square of the step. The line's own inductance and resistance outside the
 * mat are left out on both sides.
 */
export interface EnergyMeter {
  begin(step: StepContext): void;
  /** Adds one step that has been solved, before its end becomes now. */
  add(step: StepContext): void;
  result(): EnergyBalance;
  /** Greatest relative flux closure left (flux-closure.ts). */
  closure(): number;
}

/** @param sections of the wire */
export function makeEnergyMeter(sections: number): EnergyMeter {
  const closure = makeFluxClosure(sections);
  let source = 0;
  let delivered = 0;
  let resistive = 0;
  let cores = 0;
  let storedAtStart = 0;
  const before = nothingBefore();
  let seen: StepContext | undefined;

  function begin(step: StepContext): void {
    const { wire, sums, cycle } = step;
    beginClosure(closure, wire);
    copyLinkages(before.cores, sums.linkages);
    copyLinkages(before.coresPast, sums.linkages);
    wire.conductance.set(wire.sections.conductance);
    before.heat = restingLoss(wire);
    storedAtStart = storedEnergy(wire, undefined, before);
    airLinkages(before.air, cycle.coupling, wire.lag);
    before.entry = cycle.coupling.inhibited * dot(wire.sections.injection, wire.v);
  }

  function add(step: StepContext): void {
    const { difference: d, now, next, linkages } = step;
    const { h } = d;
    const { air, heat: alongHeat, swept } = alongWire(step, closure);
    const nodes = atNodes(step, alongHeat);

    // E = D[linkage] of each line; its work is i E, trapezoidal, one-step backward after a slope jump.
    const { cores: link, coresPast: linkPast, air: airLink, airPast } = before;
    const eX = rate(d, linkages.x + air.x, link.x + airLink.x, linkPast.x + airPast.x);
    const eY = rate(d, linkages.y + air.y, link.y + airLink.y, linkPast.y + airPast.y);
    const eH = rate(
      d,
      linkages.inhibit + air.inhibit,
      link.inhibit + airLink.inhibit,
      linkPast.inhibit + airPast.inhibit,
    );
    const power = next.x * eX + next.y * eY + next.inhibit * eH;
    const powerBefore = d.w === 0 ? now.x * eX + now.y * eY + now.inhibit * eH : before.power;
    const magnets = linkages.magnets - before.cores.magnets;
    // Voltages may jump at a kink: what was before it does not count then, and charge that a jump moves is heat at once.
    const jump = d.w === 0;
    const entryBefore = jump ? next.inhibit * nodes.entry : now.inhibit * before.entry;
    const beforeX = jump ? step.voltageX : before.voltageX;
    const beforeY = jump ? step.voltageY : before.voltageY;
    const work =
      (h * (power + powerBefore + entryBefore + next.inhibit * nodes.entry) +
        (step.voltageX + beforeX) * (nodes.pushedX - before.pushedX) +
        (step.voltageY + beforeY) * (nodes.pushedY - before.pushedY)) /
        2 +
      magnets;
    source += work;
    delivered += Math.max(0, work);
    cores +=
      ((now.x + next.x) * (linkages.x - before.cores.x) +
        (now.y + next.y) * (linkages.y - before.cores.y) +
        (now.inhibit + next.inhibit) * (linkages.inhibit - before.cores.inhibit) +
        swept) /
        2 +
      magnets;
    resistive += jump ? h * nodes.heat + jumpHeat(step, before) : (h * (nodes.heat + before.heat)) / 2;

    before.power = power;
    before.heat = nodes.heat;
    before.entry = nodes.entry;
    before.pushedX = nodes.pushedX;
    before.pushedY = nodes.pushedY;
    before.voltageX = step.voltageX;
    before.voltageY = step.voltageY;
    remember(d, before.coresPast, before.cores, linkages);
    remember(d, before.airPast, before.air, air);
    copyLinkages(before.cores, linkages);
    copyCurrents(before.air, air);
    copyCurrents(before.lag, step.lag);
    seen = step;
  }

  return {
    begin,
    add,
    result() {
      // The wire has been shifted to the end of the last step.
      const stored =
        seen === undefined ? 0 : storedEnergy(seen.wire, seen.cycle.coupling, before) - storedAtStart;
      return { source, resistive, stored, cores, residual: source - resistive - stored - cores, delivered };
    },
    closure: () => (seen === undefined ? 0 : closureLeft(closure, seen.wire)),
  };
}

function remember(d: Difference, past: LineCurrents, now: LineCurrents, next: LineCurrents): void {
  past.x = memory(d, next.x, now.x, past.x);
  past.y = memory(d, next.y, now.y, past.y);
  past.inhibit = memory(d, next.inhibit, now.inhibit, past.inhibit);
}

/** Linkage of the lines with the wire through air, Wb, at its lagged currents. */
function airLinkages(to: LineCurrents, { airX, airY, airInhibit }: Coupling, lag: Float64Array): void {
  to.x = dot(airX, lag);
  to.y = dot(airY, lag);
  to.inhibit = dot(airInhibit, lag);
}

/** Reused from step to step. */
const along = { air: noCurrents(), heat: 0, swept: 0 };

/**
 * Over the sections at the end of the step: the lines' linkage through air; heat of resistance and of the loss that lies
 * in parallel with every inductance in air, own and mutual, L (j - lag)^2 / lossTime, W; sum of (j0 + j1) dlambda, J. The
 * flux closure goes the same way, so that the wire is walked once a step.
 */
function alongWire(step: StepContext, closure: FluxClosure): typeof along {
  const { wire, sums, difference, cycle, next, lag, areas } = step;
  const { sections, stride, j, jGuess, jNext, lagGuess, airNext, vNext } = wire;
  const { airX, airY, airInhibit } = cycle.coupling;
  const { resistance, inductance, lossTime } = sections;
  const { start, cores, area, emf, swing } = closure;
  const { gain, h } = difference;
  // After a kink the EMF starts from a value of its own, not from the one before.
  const jump = difference.w === 0;
  const before = jump ? 0 : h / 2;
  const after = h - before;
  const lateX = next.x - lag.x;
  const lateY = next.y - lag.y;
  const lateH = next.inhibit - lag.inhibit;
  let heat = 0;
  let slow = 0;
  let x = 0;
  let y = 0;
  let inhibit = 0;
  let swept = 0;
  for (let k = 0; k < sections.count; k++) {
    const current = jNext[k]!;
    const lagged = lagGuess[k]! + gain * (current - jGuess[k]!);
    const ax = airX[k]!;
    const ay = airY[k]!;
    const ah = airInhibit[k]!;
    x += ax * lagged;
    y += ay * lagged;
    inhibit += ah * lagged;
    const L = inductance[k]!;
    const drop = resistance[k]! * current;
    const late = current - lagged;
    heat += drop * current;
    slow += late * (L * late + 2 * (ax * lateX + ay * lateY + ah * lateH));
    const linked = roleSum(sums.flux, stride, k);
    swept += ((jump ? current : j[k]!) + current) * (linked - cores[k]!);
    cores[k] = linked;
    const e = vNext[k]! - vNext[k + 1]! - drop;
    area[k]! += areas ? areas[k]! : before * emf[k]! + after * e;
    emf[k] = e;
    const moved = Math.abs(L * lagged + airNext[k]! + linked - start[k]!);
    if (moved > swing[k]!) swing[k] = moved;
  }
  along.air.x = x;
  along.air.y = y;
  along.air.inhibit = inhibit;
  along.heat = heat + slow * (lossTime > 0 ? 1 / lossTime : 0);
  along.swept = swept;
  return along;
}

/** Reused from step to step. */
const atEnd = { entry: 0, pushedX: 0, pushedY: 0, heat: 0 };

/**
 * Over the nodes at the end of the step: V at the inhibit's entry; C that each drive line has pushed in; heat of
 * terminations, leakage and clamps, W, added to that along the wire.
 */
function atNodes(step: StepContext, alongHeat: number): typeof atEnd {
  const { wire, voltageX, voltageY } = step;
  const { coupling } = step.cycle;
  const { clamp } = step.problem;
  const { sections, conductance, vNext } = wire;
  const { chargeX, chargeY } = coupling;
  let entry = 0;
  let heat = alongHeat;
  let pushedX = coupling.driverX * voltageX;
  let pushedY = coupling.driverY * voltageY;
  for (let k = 0; k <= sections.count; k++) {
    const voltage = vNext[k]!;
    const bare = sections.conductance[k]!;
    entry += sections.injection[k]! * voltage;
    pushedX -= chargeX[k]! * voltage;
    pushedY -= chargeY[k]! * voltage;
    heat += bare * voltage * voltage;
    if (conductance[k]! > bare)
      heat += CLAMP_CONDUCTANCE * Math.max(0, Math.abs(voltage) - clamp) * Math.abs(voltage);
  }
  atEnd.entry = entry * coupling.inhibited;
  atEnd.heat = heat;
  atEnd.pushedX = pushedX;
  atEnd.pushedY = pushedY;
  return atEnd;
}
