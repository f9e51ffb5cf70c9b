import type { Design } from '../design/design.ts';
import { shortestCycle } from './recovery.ts';
import { stepAnswerAt } from '../core/step-answer.ts';
import { atTemperature } from '../core/model.ts';
import { driveLevels, warmCurrents } from '../drive/at-temperature.ts';

/** Drivers of a stack of `mats` planes: one set of X and Y for all, and one inhibit driver a plane. */
export const driversWithInhibit = (rows: number, columns: number, mats: number): number =>
  rows + columns + mats;

/** Without inhibit each plane needs X and Y drivers of its own. */
export const driversWithoutInhibit = (rows: number, columns: number, mats: number): number =>
  (rows + columns) * mats;

/** s from address to data: so many equal steps of one turnover each (Rajchman, RCA Review, June 1952: three). */
export const accessTime = (turnover: number, steps = 3): number => steps * turnover;

/** Charges that one cycle draws from the drive supply, C. */
export interface CycleCharge {
  /** X and Y, read, write, and post-write disturb. */
  readonly lines: number;
  /** One inhibit driver, when it fires (both halves where there are two). */
  readonly inhibit: number;
  readonly fixed: number;
  readonly total: number;
}

/**
 * Charge per cycle with `zeros` ZERO bits in the word. Current times width between half-amplitude points, which is
 * the exact area of a pulse with linear or raised-cosine edges.
 */
export function cycleCharge(design: Design, zeros: number): CycleCharge {
  const { cycle, drive, supply, winding } = design;
  const level = driveLevels(design);
  const read = (level.x.read + level.y.read) * cycle.readWidth;
  const write = (level.x.write + level.y.write) * cycle.writeWidth;
  const disturb = cycle.postWriteDisturb ? level.x.read * cycle.readWidth : 0;
  const wires = winding.kind === 'shared-two-halves' ? 2 : 1;
  const width = drive.inhibit.lead + cycle.writeWidth + Math.abs(cycle.stagger) + drive.inhibit.lag;
  const inhibit = wires * level.inhibit * width;
  const lines = read + write + disturb;
  return {
    lines,
    inhibit,
    fixed: supply.chargePerCycle,
    total: lines + zeros * inhibit + supply.chargePerCycle,
  };
}

/** A at `rate` cycles a second (Hz): quiescent + rate times charge. All bits ZERO, the worst data, unless told. */
export function supplyCurrent(design: Design, rate: number, zeros = design.mat.mats): number {
  return design.supply.quiescent + rate * cycleCharge(design, zeros).total;
}

/** Hz: the highest rate at which read, gap, write, inhibit and the inhibit's tail still fit. */
export const highestRate = (design: Design): number => 1 / shortestCycle(design);

/** s: switching time of a core under full read by the closed form of a step; 0 when the drive does not switch it. */
function turnover(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  return stepAnswerAt(p, warmCurrents(design).fullRead)?.switchingTime ?? 0;
}

/** What a builder plans with. */
export interface BuildNumbers {
  readonly drivers: { readonly withInhibit: number; readonly withoutInhibit: number };
  /** Cores in the stack. */
  readonly cores: number;
  readonly charge: CycleCharge;
  /** A, worst over data, at the design's period and at the highest rate. */
  readonly supplyCurrent: { readonly atRate: number; readonly atHighestRate: number };
  /** Hz. */
  readonly rate: number;
  readonly highestRate: number;
  /** s from address to data: three turnovers, each the switching time of a core under full read; 0: it does not switch. */
  readonly access: number;
}

export function buildNumbers(design: Design): BuildNumbers {
  const { rows, columns, mats } = design.mat;
  const rate = 1 / design.cycle.period;
  const highest = highestRate(design);
  return {
    drivers: {
      withInhibit: driversWithInhibit(rows, columns, mats),
      withoutInhibit: driversWithoutInhibit(rows, columns, mats),
    },
    cores: rows * columns * mats,
    charge: cycleCharge(design, mats),
    supplyCurrent: { atRate: supplyCurrent(design, rate), atHighestRate: supplyCurrent(design, highest) },
    rate,
    highestRate: highest,
    access: accessTime(turnover(design)),
  };
}
