import type { Coupling } from '../network/coupling.ts';
import { nodeCharge } from './ladder.ts';
import { noCurrents, noLinkages, type LineCurrents, type LineLinkages } from './section-sums.ts';
import type { StepContext } from './step-context.ts';
import type { WireState } from './wire-state.ts';

/** What the meter keeps of the end of a step for the next one. */
export interface EnergyBefore {
  /** Wb: the lines' linkages with cores, and with the wire through air; each with its memory (difference.ts). */
  readonly cores: LineLinkages;
  readonly coresPast: LineLinkages;
  readonly air: LineCurrents;
  readonly airPast: LineCurrents;
  /** A: lagged currents of the lines. */
  readonly lag: LineCurrents;
  /** V along the drive lines, and C: what they have pushed in through the coupling capacitance. */
  voltageX: number;
  voltageY: number;
  pushedX: number;
  pushedY: number;
  /** V: what the inhibit current finds where it enters the wire. */
  entry: number;
  /** W: from drivers into linkages; heat. */
  power: number;
  heat: number;
}

export const nothingBefore = (): EnergyBefore => ({
  cores: noLinkages(),
  coresPast: noLinkages(),
  air: noCurrents(),
  airPast: noCurrents(),
  lag: noCurrents(),
  voltageX: 0,
  voltageY: 0,
  pushedX: 0,
  pushedY: 0,
  entry: 0,
  power: 0,
  heat: 0,
});

/** Heat in a wire whose drive lines are at rest, W. */
export function restingLoss({ sections, j, lag, v }: WireState): number {
  let sum = 0;
  for (let k = 0; k < sections.count; k++) {
    sum += sections.resistance[k]! * j[k]! * j[k]!;
    if (sections.lossTime > 0) sum += (sections.inductance[k]! * (j[k]! - lag[k]!) ** 2) / sections.lossTime;
  }
  for (let k = 0; k <= sections.count; k++) sum += sections.conductance[k]! * v[k]! * v[k]!;
  return sum;
}

/** Field and charge energy now, J: 1/2 L lag^2 with the mutuals in air, 1/2 q v. */
export function storedEnergy(wire: WireState, coupling: Coupling | undefined, at: EnergyBefore): number {
  const { sections, lag, v } = wire;
  let sum = 0;
  for (let k = 0; k < sections.count; k++) {
    sum += (sections.inductance[k]! * lag[k]! * lag[k]!) / 2;
    if (coupling)
      sum +=
        lag[k]! *
        (coupling.airX[k]! * at.lag.x +
          coupling.airY[k]! * at.lag.y +
          coupling.airInhibit[k]! * at.lag.inhibit);
  }
  return sum + chargeEnergy(wire, coupling, v, at.voltageX, at.voltageY);
}

/** Energy of node voltages v and line voltages x and y in the capacitances, J. */
function chargeEnergy(
  { sections }: WireState,
  coupling: Coupling | undefined,
  v: Float64Array,
  x: number,
  y: number,
): number {
  const charge = new Float64Array(sections.count + 1);
  nodeCharge(sections, v, charge);
  let sum = 0;
  for (let k = 0; k <= sections.count; k++) {
    sum += (charge[k]! * v[k]!) / 2;
    if (coupling) sum -= v[k]! * (coupling.chargeX[k]! * x + coupling.chargeY[k]! * y);
  }
  return coupling ? sum + (coupling.driverX * x * x + coupling.driverY * y * y) / 2 : sum;
}

/**
 * J that become heat in the step after a kink beside what currents through resistances make of its end: charge that a jump
 * of voltage moves loses half of C dv^2 wherever it flows, and however fast. The one-step formula loses just that.
 */
export function jumpHeat({ wire, cycle, voltageX, voltageY }: StepContext, before: EnergyBefore): number {
  const change = wire.vNext.map((v, k) => v - wire.v[k]!);
  return chargeEnergy(wire, cycle.coupling, change, voltageX - before.voltageX, voltageY - before.voltageY);
}
