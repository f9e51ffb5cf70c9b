import type { Design } from '../design/design.ts';
import { eachSection, type Sections } from './sections.ts';

/** What the driven lines of one cycle do to the wire without the help of ferrite. */
export interface Coupling {
  /** H per section: air mutual inductance to X, Y and to the separate inhibit wire, signed as the cores are. */
  readonly airX: Float64Array;
  readonly airY: Float64Array;
  readonly airInhibit: Float64Array;
  /** F per node: charge on the wire per volt of line voltage at the driver's end. */
  readonly chargeX: Float64Array;
  readonly chargeY: Float64Array;
  /** F: what the driver sees of that capacitance, per line. */
  readonly driverX: number;
  readonly driverY: number;
  /** 1 where this mat's own inhibit driver fires in this cycle; 0 where only those of other mats in series do. */
  readonly inhibited: 0 | 1;
}

/**
 * Air and capacitive coupling of row `row` and column `column` (-1: not driven). The far end of a drive line is at
 * the potential of the surroundings and the mat in the middle of its stack, so a crossing sees the line's voltage
 * in proportion to its distance from the far end.
 */
export function coupleLines(
  design: Design,
  sections: Sections,
  polarity: Int8Array,
  row: number,
  column: number,
  separateInhibit: boolean,
  inhibited: boolean,
): Coupling {
  const { rows, columns, mats } = design.mat;
  const { wire } = design;
  const make = (): Float64Array => new Float64Array(sections.count);
  const airX = make();
  const airY = make();
  const airInhibit = make();
  const chargeX = new Float64Array(sections.count + 1);
  const chargeY = new Float64Array(sections.count + 1);
  let driverX = 0;
  let driverY = 0;
  const middle = (mats - 1) / 2;
  const addCharge = (to: Float64Array, core: number, fraction: number): number => {
    eachSection(sections, core, (k, share) => {
      to[k]! += (wire.couplingCapacitance * fraction * share) / 2;
      to[k + 1]! += (wire.couplingCapacitance * fraction * share) / 2;
    });
    return wire.couplingCapacitance * fraction * fraction;
  };
  const addAir = (to: Float64Array, core: number, mutual: number): void =>
    eachSection(sections, core, (k, share) => {
      to[k]! += polarity[core]! * mutual * share;
    });
  for (let c = 0; c < (row < 0 ? 0 : columns); c++) {
    const core = row * columns + c;
    if (sections.ofCore[core]! < 0) continue;
    addAir(airX, core, wire.mutualX);
    driverX += addCharge(chargeX, core, 1 - (middle + (c + 0.5) / columns) / mats);
  }
  for (let r = 0; r < (column < 0 ? 0 : rows); r++) {
    const core = r * columns + column;
    if (sections.ofCore[core]! < 0) continue;
    addAir(airY, core, wire.mutualY);
    driverY += addCharge(chargeY, core, 1 - (middle + (r + 0.5) / rows) / mats);
  }
  const { mutual } = design.mat.leads;
  if (row >= 0) addLeads(airX, sections, mutual);
  if (column >= 0) addLeads(airY, sections, mutual);
  if (separateInhibit && inhibited)
    for (let core = 0; core < rows * columns; core++) addAir(airInhibit, core, -wire.mutualX);
  return { airX, airY, airInhibit, chargeX, chargeY, driverX, driverY, inhibited: inhibited ? 1 : 0 };
}

/** Leads beside leads: half of their mutual inductance at either end of the wire, spread over its sections there. */
function addLeads(to: Float64Array, { count, leads }: Sections, mutual: number): void {
  for (let k = 0; k < leads; k++) {
    to[k]! += mutual / (2 * leads);
    to[count - 1 - k]! += mutual / (2 * leads);
  }
}
