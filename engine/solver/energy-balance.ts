import type { Coupling } from '../network/coupling.ts';
import type { LineCurrents } from './core-stepper.ts';
import { memory, type Difference } from './difference.ts';
import { nodeCharge } from './ladder.ts';
import type { EnergyBalance } from './result.ts';
import { CLAMP_CONDUCTANCE, roleSum, type WireState } from './wire-state.ts';

/** Linkages of X, Y and the separate inhibit wire with this mat's cores, and the sum of bias times linkage (J). */
export type LineLinkages = Float64Array;

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
  let power = 0;
  let loss = 0;
  const lines = new Float64Array(4);
  const linesPast = new Float64Array(4);
  /** Linkages of X, Y and the separate inhibit wire with the wire through air, now and one step before. */
  const air = new Float64Array(3);
  const airPast = new Float64Array(3);
  let fresh = true;
  let injected = 0;
  let pushedX = 0;
  let pushedY = 0;
  /** What the last step ended with, for the energy that is stored at the end. */
  const last = { x: 0, y: 0, inhibit: 0, vx: 0, vy: 0 };
  let seen: { readonly wire: WireState; readonly coupling: Coupling } | undefined;

  return {
    begin(wire, linkages) {
      source = delivered = resistive = cores = power = 0;
      lines.set(linkages);
      linesPast.set(linkages);
      fresh = true;
      injected = pushedX = pushedY = 0;
      last.x = last.y = last.inhibit = last.vx = last.vy = 0;
      wire.conductance.set(wire.sections.conductance);
      loss = restingLoss(wire);
      storedAtStart = storedEnergy(wire, undefined, last);
      seen = undefined;
    },
    step(wire, d, coupling, now, next, lag, coreFlux, linkages, vx, vy, clamp) {
      const { a0, a1, a2, h, gain } = d;
      const { sections, stride, j, jGuess, jNext, lagGuess, v, vNext, flux, conductance } = wire;
      const { airX, airY, airInhibit, chargeX, chargeY } = coupling;
      const { resistance, inductance, injection } = sections;
      const n = sections.count;
      if (fresh) {
        air[0] = dot(airX, wire.lag);
        air[1] = dot(airY, wire.lag);
        air[2] = dot(airInhibit, wire.lag);
        injected = coupling.inhibited * dot(injection, v);
        fresh = false;
      }
      // Loss in parallel with the inductances in air, own and mutual: L (j - lag)^2 / lossTime.
      const rate = sections.lossTime > 0 ? 1 / sections.lossTime : 0;
      const lateX = next.x - lag.x;
      const lateY = next.y - lag.y;
      const lateH = next.inhibit - lag.inhibit;
      let heat = 0;
      let slow = 0;
      let x = 0;
      let y = 0;
      let inhibit = 0;
      let swept = 0;
      for (let k = 0; k < n; k++) {
        const current = jNext[k]!;
        const lagged = lagGuess[k]! + gain * (current - jGuess[k]!);
        const ax = airX[k]!;
        const ay = airY[k]!;
        const ah = airInhibit[k]!;
        x += ax * lagged;
        y += ay * lagged;
        inhibit += ah * lagged;
        swept += (j[k]! + current) * (roleSum(coreFlux, stride, k) - roleSum(flux, stride, k));
        const late = current - lagged;
        heat += resistance[k]! * current * current;
        slow += late * (inductance[k]! * late + 2 * (ax * lateX + ay * lateY + ah * lateH));
      }
      heat += slow * rate;
      let enters = 0;
      let pushX = coupling.driverX * vx;
      let pushY = coupling.driverY * vy;
      for (let k = 0; k <= n; k++) {
        const voltage = vNext[k]!;
        const bare = sections.conductance[k]!;
        enters += injection[k]! * voltage;
        pushX -= chargeX[k]! * voltage;
        pushY -= chargeY[k]! * voltage;
        heat += bare * voltage * voltage;
        if (conductance[k]! > bare)
          heat += CLAMP_CONDUCTANCE * Math.max(0, Math.abs(voltage) - clamp) * Math.abs(voltage);
      }
      enters *= coupling.inhibited;

      const eX = a0 * (linkages[0]! + x) + a1 * (lines[0]! + air[0]!) + a2 * (linesPast[0]! + airPast[0]!);
      const eY = a0 * (linkages[1]! + y) + a1 * (lines[1]! + air[1]!) + a2 * (linesPast[1]! + airPast[1]!);
      const eH =
        a0 * (linkages[2]! + inhibit) + a1 * (lines[2]! + air[2]!) + a2 * (linesPast[2]! + airPast[2]!);
      const powerNext = next.x * eX + next.y * eY + next.inhibit * eH;
      const before = d.w === 0 ? now.x * eX + now.y * eY + now.inhibit * eH : power;
      const magnets = linkages[3]! - lines[3]!;
      const work =
        (h * (powerNext + before + now.inhibit * injected + next.inhibit * enters) +
          (vx + last.vx) * (pushX - pushedX) +
          (vy + last.vy) * (pushY - pushedY)) /
          2 +
        magnets;
      source += work;
      delivered += Math.max(0, work);
      cores +=
        ((now.x + next.x) * (linkages[0]! - lines[0]!) +
          (now.y + next.y) * (linkages[1]! - lines[1]!) +
          (now.inhibit + next.inhibit) * (linkages[2]! - lines[2]!) +
          swept) /
          2 +
        magnets;
      resistive += (h * (heat + loss)) / 2;

      power = powerNext;
      loss = heat;
      injected = enters;
      pushedX = pushX;
      pushedY = pushY;
      for (let i = 0; i < 4; i++) {
        linesPast[i] = memory(d, linkages[i]!, lines[i]!, linesPast[i]!);
        lines[i] = linkages[i]!;
      }
      airPast[0] = memory(d, x, air[0]!, airPast[0]!);
      airPast[1] = memory(d, y, air[1]!, airPast[1]!);
      airPast[2] = memory(d, inhibit, air[2]!, airPast[2]!);
      air[0] = x;
      air[1] = y;
      air[2] = inhibit;
      last.x = lag.x;
      last.y = lag.y;
      last.inhibit = lag.inhibit;
      last.vx = vx;
      last.vy = vy;
      if (seen === undefined) seen = { wire, coupling };
    },
    result() {
      // The wire has been shifted to the end of the last step.
      const stored = seen === undefined ? 0 : storedEnergy(seen.wire, seen.coupling, last) - storedAtStart;
      return { source, resistive, stored, cores, residual: source - resistive - stored - cores, delivered };
    },
  };
}

/** Heat in a wire whose drive lines are at rest, W. */
function restingLoss({ sections, j, lag, v }: WireState): number {
  let sum = 0;
  for (let k = 0; k < sections.count; k++) {
    sum += sections.resistance[k]! * j[k]! * j[k]!;
    if (sections.lossTime > 0) sum += (sections.inductance[k]! * (j[k]! - lag[k]!) ** 2) / sections.lossTime;
  }
  for (let k = 0; k <= sections.count; k++) sum += sections.conductance[k]! * v[k]! * v[k]!;
  return sum;
}

/** Field and charge energy now, J; `at`: lagged line currents and line voltages. */
function storedEnergy(
  wire: WireState,
  coupling: Coupling | undefined,
  at: LineCurrents & { readonly vx: number; readonly vy: number },
): number {
  const { sections, lag, v } = wire;
  const charge = new Float64Array(sections.count + 1);
  let sum = 0;
  for (let k = 0; k < sections.count; k++) {
    sum += (sections.inductance[k]! * lag[k]! * lag[k]!) / 2;
    if (coupling)
      sum +=
        lag[k]! *
        (coupling.airX[k]! * at.x + coupling.airY[k]! * at.y + coupling.airInhibit[k]! * at.inhibit);
  }
  nodeCharge(sections, v, charge);
  for (let k = 0; k <= sections.count; k++) {
    sum += (charge[k]! * v[k]!) / 2;
    if (coupling) sum -= v[k]! * (coupling.chargeX[k]! * at.vx + coupling.chargeY[k]! * at.vy);
  }
  if (coupling) sum += (coupling.driverX * at.vx * at.vx + coupling.driverY * at.vy * at.vy) / 2;
  return sum;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
