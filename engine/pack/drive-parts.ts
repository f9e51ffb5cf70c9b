import type { Design } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { lineInductance } from '../drive/line-voltage.ts';
import { driveNeeds } from '../estimates/drive-needs.ts';
import { cycleCharge, peakNeeds, supplyCurrent } from '../estimates/supply-needs.ts';
import { isShared } from '../mat/winding.ts';
import { joules, q, watts } from './part-values.ts';
import type { Part } from './part.ts';

/** Wires that carry inhibit, each with a driver: a mat has one, or one a half, or one a segment of a shared wire. */
function inhibitWires({ mat, winding }: Design): number {
  if (winding.kind === 'shared-two-halves') return 2 * mat.mats;
  return mat.mats * (isShared(winding) ? winding.segments : 1);
}

export function drivers(design: Design): Part[] {
  const { mat, drive } = design;
  const levels = driveLevels(design);
  return driveNeeds(design).map(({ line, needed, onEdge, onTop, power }): Part => {
    const d = drive[line];
    const amperes =
      line === 'inhibit'
        ? q(levels.inhibit, 'A')
        : `${q(levels[line].read, 'A')} read, ${q(levels[line].write, 'A')} write`;
    const top =
      line === 'inhibit'
        ? 'when the current stands'
        : mat.mats === 1
          ? 'while a ONE switches'
          : `while ONEs switch in ${mat.mats} mats`;
    return {
      group: 'drivers',
      what: line === 'inhibit' ? 'drivers of inhibit' : `drivers of ${line.toUpperCase()}, both ways`,
      count: line === 'x' ? mat.rows : line === 'y' ? mat.columns : inhibitWires(design),
      value: `${amperes}; ${q(needed, 'V')} into the ${line === 'inhibit' ? 'wire' : 'line'}, ${watts(power.driver)} beside it`,
      note: `${q(onEdge, 'V')} on an edge of ${q(Math.min(d.rise, d.fall), 's')}, ${q(onTop, 'V')} ${top}; heat if one address is cycled for ever, with whatever sets the current`,
    };
  });
}

export function clamps(design: Design): Part[] {
  const { mat, drive } = design;
  const parts = (['x', 'y'] as const).map((line): Part => {
    const { read, write } = driveLevels(design)[line];
    const level = Math.max(read, write);
    const energy = (lineInductance(design, line) * level ** 2) / 2;
    return {
      group: 'clamps',
      what: `clamps of ${line.toUpperCase()}`,
      count: 2 * (line === 'x' ? mat.rows : mat.columns),
      value: `fast diodes to a rail of ${q(drive[line].clamp, 'V')}, ${q(level, 'A')} peak`,
      note: `one for each way of the current; ${joules(energy)} at every turn-off`,
    };
  });
  const level = driveLevels(design).inhibit;
  parts.push({
    group: 'clamps',
    what: 'clamps of inhibit',
    count: inhibitWires(design),
    value: Number.isFinite(drive.inhibit.clamp)
      ? `${q(drive.inhibit.clamp, 'V')} across the driven ends, ${q(level, 'A')} peak`
      : `none in the design; a fast diode to the rail protects the driver, ${q(level, 'A')} peak`,
    note: 'must not conduct while the wire is read',
  });
  return parts;
}

export function supply(design: Design): Part[] {
  const { mat } = design;
  const peak = peakNeeds(design);
  const charge = cycleCharge(design, mat.mats).total;
  return [
    {
      group: 'supply',
      what: 'drive supply',
      count: 1,
      value: `${q(design.supply.voltage, 'V')}, ${q(supplyCurrent(design, 1 / design.cycle.period), 'A')} on average, limited to ${q(design.supply.budget, 'A')}`,
      note: 'every bit ZERO in every cycle; a current limit that trips spares wires when a driver sticks',
    },
    {
      group: 'supply',
      what: 'reservoir',
      count: 1,
      value: `${q(peak.reservoir, 'F')}, low inductance, beside the drivers`,
      note: `${q(charge, 'C')} a cycle for 1 % of sag; ${q(peak.current, 'A')} at the worst instant`,
    },
    {
      group: 'supply',
      what: 'decoupling',
      count: mat.rows + mat.columns + inhibitWires(design),
      value: '100 nF ceramic at every driver',
      note: 'common practice, no source',
    },
  ];
}
