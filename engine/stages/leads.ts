import { writeQuantity } from '../base/format-quantity.ts';
import type { Json } from '../base/json-patch.ts';
import {
  pairCapacitancePerMetre,
  pairInductancePerMetre,
  parallelMutual,
  resistancePerMetre,
} from '../core/straight-wires.ts';
import type { Design } from '../design/design.ts';

/** Leads of a bench, m: of a drive line and of the sense wire alike. */
export interface LooseLeads {
  /** From the drivers or the amplifier to the mat, one way. */
  readonly run: number;
  /** Between the lead there and the lead back. */
  readonly apart: number;
  /** From the pair of a drive line to that of the sense wire, middle to middle. */
  readonly between: number;
}

/** Such leads as fields of a design: `mat.leads` and `wire.cable`. Handbook formulas for straight pairs in air. */
export function leadFields(
  { wire }: Pick<Design, 'wire'>,
  { run, apart, between }: LooseLeads,
): { readonly leads: Json; readonly cable: Json } {
  const radius = wire.bareDiameter / 2;
  const inductance = pairInductancePerMetre(radius, apart);
  // A conductor against the middle between the two, where nothing is: twice what lies between them.
  const capacitance = 2 * pairCapacitancePerMetre(radius, apart);
  const q = writeQuantity;
  const digits = (value: number): number => Number(value.toPrecision(3));
  return {
    leads: {
      length: q(2 * run, 'm'),
      distance: q(apart, 'm'),
      mutual: q(digits(pairMutual(run, apart, between)), 'H'),
    },
    cable: {
      delay: q(digits(run * Math.sqrt(inductance * capacitance)), 's'),
      impedance: q(digits(Math.sqrt(inductance / capacitance)), 'ohm'),
      resistance: q(digits(run * resistancePerMetre(wire.material, wire.bareDiameter, 25)), 'ohm'),
    },
  };
}

/**
 * H between two pairs of leads of one length side by side in one plane, by Rosa's formula for each of the four pairs of
 * wires. Its sign depends on which lead of either is the outer one; here it is taken as adding to a ONE.
 */
export function pairMutual(length: number, apart: number, between: number): number {
  const m = (distance: number): number => parallelMutual(0, length, 0, length, distance);
  return Math.abs(2 * m(between) - m(between + apart) - m(between - apart));
}
