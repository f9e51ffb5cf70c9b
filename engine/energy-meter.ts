import type { Coupling } from './coupling.ts';
import type { LineCurrents } from './core-stepper.ts';
import { nodeCharge } from './ladder.ts';
import type { EnergyBalance } from './result.ts';
import { CLAMP_CONDUCTANCE, roleSum, type Difference, type WireState } from './wire-state.ts';

/** Linkages of X, Y and the separate inhibit wire with this mat's cores, and the sum of bias times linkage (J). */
export type LineLinkages = Float64Array;

const REST: LineCurrents = { x: 0, y: 0, inhibit: 0 };

interface Instant {
  power: number;
  loss: number;
  stored: number;
}

/**
 * Energy of the observed cycle: work of the drivers (also through the coupling capacitance) and of magnets, against
 * heat, field and charge energy, and the integral of F d(lambda) over all cores. Source power is taken from the
 * step's own EMF, core work from linkage differences: two different quadratures of second order, so the residual
 * measures the method and falls with the square of the step. The line's own inductance and resistance outside the
 * mat are left out on both sides.
 */
export interface EnergyMeter {
  begin(wire: WireState, linkages: LineLinkages): void;
  /** Adds one step; call after settleWire and before shiftWire. */
  step(
    wire: WireState,
    d: Difference,
    coupling: Coupling,
    now: LineCurrents,
    next: LineCurrents,
    lag: LineCurrents,
    coreFlux: Float64Array,
    linkages: LineLinkages,
    vx: number,
    vy: number,
    clamp: number,
  ): void;
  result(): EnergyBalance;
}

export function makeEnergyMeter(): EnergyMeter {
  let source = 0;
  let delivered = 0;
  let resistive = 0;
  let cores = 0;
  let storedAtStart = 0;
  const last: Instant = { power: 0, loss: 0, stored: 0 };
  let lines = new Float64Array(4);
  let linesOld = new Float64Array(4);
  let air = [0, 0, 0];
  let airOld = [0, 0, 0];
  let vxNow = 0;
  let vyNow = 0;
  let pushedX = 0;
  let pushedY = 0;
  let charge = new Float64Array(0);
  let lagNext = new Float64Array(0);

  /** Heat in the wire, its loss resistances, terminations and clamps, W. */
  const lossPower = (
    wire: WireState,
    coupling: Coupling | undefined,
    j: Float64Array,
    lag: Float64Array,
    v: Float64Array,
    i: LineCurrents,
    iLag: LineCurrents,
    clamp: number,
  ): number => {
    const { sections } = wire;
    const x = i.x - iLag.x;
    const y = i.y - iLag.y;
    const h = i.inhibit - iLag.inhibit;
    let sum = 0;
    for (let k = 0; k < sections.count; k++) {
      sum += sections.resistance[k]! * j[k]! * j[k]!;
      if (sections.lossTime === 0) continue;
      // Loss in parallel with the inductances in air, own and mutual: L (j - lag)^2 / lossTime.
      const late = j[k]! - lag[k]!;
      let mutual = 0;
      if (coupling) mutual = coupling.airX[k]! * x + coupling.airY[k]! * y + coupling.airInhibit[k]! * h;
      sum += (late * (sections.inductance[k]! * late + 2 * mutual)) / sections.lossTime;
    }
    for (let k = 0; k <= sections.count; k++) {
      sum += sections.conductance[k]! * v[k]! * v[k]!;
      if (wire.conductance[k]! > sections.conductance[k]!)
        sum += CLAMP_CONDUCTANCE * Math.max(0, Math.abs(v[k]!) - clamp) * Math.abs(v[k]!);
    }
    return sum;
  };

  const storedEnergy = (
    wire: WireState,
    coupling: Coupling | undefined,
    lag: Float64Array,
    v: Float64Array,
    i: LineCurrents,
    vx: number,
    vy: number,
  ): number => {
    const { sections } = wire;
    let sum = 0;
    for (let k = 0; k < sections.count; k++) {
      sum += (sections.inductance[k]! * lag[k]! * lag[k]!) / 2;
      if (coupling)
        sum +=
          lag[k]! * (coupling.airX[k]! * i.x + coupling.airY[k]! * i.y + coupling.airInhibit[k]! * i.inhibit);
    }
    nodeCharge(sections, v, charge, 1);
    for (let k = 0; k <= sections.count; k++) {
      sum += (charge[k]! * v[k]!) / 2;
      if (coupling) sum -= v[k]! * (coupling.chargeX[k]! * vx + coupling.chargeY[k]! * vy);
    }
    if (coupling) sum += (coupling.driverX * vx * vx + coupling.driverY * vy * vy) / 2;
    return sum;
  };

  const airLinkages = (coupling: Coupling, j: Float64Array): number[] => [
    dot(coupling.airX, j),
    dot(coupling.airY, j),
    dot(coupling.airInhibit, j),
  ];

  return {
    begin(wire, linkages) {
      source = delivered = resistive = cores = 0;
      charge = new Float64Array(wire.sections.count + 1);
      lagNext = new Float64Array(wire.sections.count);
      lines = linkages.slice();
      linesOld = linkages.slice();
      air = [0, 0, 0];
      vxNow = vyNow = pushedX = pushedY = 0;
      wire.conductance.set(wire.sections.conductance);
      last.loss = lossPower(wire, undefined, wire.j, wire.lag, wire.v, REST, REST, Infinity);
      last.power = 0;
      storedAtStart = last.stored = storedEnergy(wire, undefined, wire.lag, wire.v, REST, 0, 0);
    },
    step(wire, d, coupling, now, next, lag, coreFlux, linkages, vx, vy, clamp) {
      const { a0, a1, a2, h } = d;
      const { sections, stride, j, jNext, v, vNext } = wire;
      for (let k = 0; k < sections.count; k++)
        lagNext[k] = wire.lagGuess[k]! + d.gain * (jNext[k]! - wire.jGuess[k]!);
      const airNext = airLinkages(coupling, lagNext);
      if (d.w === 0) {
        air = airLinkages(coupling, wire.lag);
        airOld = air;
      }
      const emf = (i: number): number =>
        a0 * (linkages[i]! + airNext[i]!) + a1 * (lines[i]! + air[i]!) + a2 * (linesOld[i]! + airOld[i]!);
      const eX = emf(0);
      const eY = emf(1);
      const eH = emf(2);
      let injectedNow = 0;
      let injectedNext = 0;
      for (let k = 0; k <= sections.count; k++) {
        injectedNow += coupling.inhibited * sections.injection[k]! * v[k]!;
        injectedNext += coupling.inhibited * sections.injection[k]! * vNext[k]!;
      }
      const sourceBefore = source;
      const power = next.x * eX + next.y * eY + next.inhibit * eH;
      const before = d.w === 0 ? now.x * eX + now.y * eY + now.inhibit * eH : last.power;
      source += (h * (power + before)) / 2;
      source += (h * (now.inhibit * injectedNow + next.inhibit * injectedNext)) / 2;
      const pushX = coupling.driverX * vx - dot(coupling.chargeX, vNext);
      const pushY = coupling.driverY * vy - dot(coupling.chargeY, vNext);
      source += ((vx + vxNow) * (pushX - pushedX) + (vy + vyNow) * (pushY - pushedY)) / 2;

      let work =
        ((now.x + next.x) * (linkages[0]! - lines[0]!) +
          (now.y + next.y) * (linkages[1]! - lines[1]!) +
          (now.inhibit + next.inhibit) * (linkages[2]! - lines[2]!)) /
        2;
      for (let k = 0; k < sections.count; k++)
        work += ((j[k]! + jNext[k]!) * (roleSum(coreFlux, stride, k) - roleSum(wire.flux, stride, k))) / 2;
      const magnets = linkages[3]! - lines[3]!;
      cores += work + magnets;
      source += magnets;
      delivered += Math.max(0, source - sourceBefore);

      const loss = lossPower(wire, coupling, jNext, lagNext, vNext, next, lag, clamp);
      resistive += (h * (loss + last.loss)) / 2;
      last.loss = loss;
      last.power = power;
      last.stored = storedEnergy(wire, coupling, lagNext, vNext, lag, vx, vy);
      const recycled = linesOld;
      linesOld = lines;
      recycled.set(linkages);
      lines = recycled;
      airOld = air;
      air = airNext;
      vxNow = vx;
      vyNow = vy;
      pushedX = pushX;
      pushedY = pushY;
    },
    result() {
      const stored = last.stored - storedAtStart;
      return { source, resistive, stored, cores, residual: source - resistive - stored - cores, delivered };
    },
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
