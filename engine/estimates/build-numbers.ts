import type { Design } from '../design/design.ts';
import { stepAnswerAt } from '../core/step-answer.ts';
import { atTemperature } from '../core/model.ts';
import { warmCurrents } from '../drive/at-temperature.ts';
import { cycleLimits, shortestCycle, type CycleLimits } from './cycle-limits.ts';
import { driveNeeds, type DriverNeeds } from './drive-needs.ts';
import {
  driverCounts,
  driversWithInhibit,
  driversWithoutInhibit,
  type DriverCounts,
} from './driver-counts.ts';
import { cycleCharge, peakNeeds, supplyCurrent, type CycleCharge, type PeakNeeds } from './supply-needs.ts';

/** s from address to data: so many equal steps of one turnover each (Rajchman, RCA Review, June 1952: three). */
export const accessTime = (turnover: number, steps = 3): number => steps * turnover;

/** Hz: the highest rate at which a cycle still fits (cycleLimits). */
export const highestRate = (design: Design): number => 1 / shortestCycle(design);

/** s: switching time of a core under full read by the closed form of a step; 0 when the drive does not switch it. */
function turnover(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  return stepAnswerAt(p, warmCurrents(design).fullRead)?.switchingTime ?? 0;
}

/** What a builder plans with. */
export interface BuildNumbers {
  readonly drivers: { readonly withInhibit: number; readonly withoutInhibit: number } & DriverCounts;
  /** X, Y and inhibit: V and W that each asks for. */
  readonly needs: readonly DriverNeeds[];
  /** Cores in the stack. */
  readonly cores: number;
  readonly charge: CycleCharge;
  /** A, worst over data, at the design's period and at the highest rate. */
  readonly supplyCurrent: { readonly atRate: number; readonly atHighestRate: number };
  readonly peak: PeakNeeds;
  readonly limits: CycleLimits;
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
      ...driverCounts(rows, columns, mats),
    },
    needs: driveNeeds(design),
    cores: rows * columns * mats,
    charge: cycleCharge(design, mats),
    supplyCurrent: { atRate: supplyCurrent(design, rate), atHighestRate: supplyCurrent(design, highest) },
    peak: peakNeeds(design),
    limits: cycleLimits(design),
    rate,
    highestRate: highest,
    access: accessTime(turnover(design)),
  };
}
