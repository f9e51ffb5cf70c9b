import type { Design } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { pulseInstants } from '../drive/programme.ts';
import { pulseWidth } from '../drive/pulse-widths.ts';

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
  const { cycle, supply } = design;
  const level = driveLevels(design);
  const charge = (line: 'x' | 'y', what: 'read' | 'write'): number =>
    level[line][what] * pulseWidth(design, line, what);
  const read = cycle.reads * (charge('x', 'read') + charge('y', 'read'));
  const write = cycle.writes * (charge('x', 'write') + charge('y', 'write'));
  const disturb = cycle.postWriteDisturb ? charge('x', 'read') : 0;
  const inhibit = inhibitCurrent(design) * inhibitWidth(design);
  const lines = read + write + disturb;
  return {
    lines,
    inhibit,
    fixed: supply.chargePerCycle,
    total: lines + zeros * inhibit + supply.chargePerCycle,
  };
}

/** s between half-amplitude points of the inhibit pulse: around all writes of both lines. */
export function inhibitWidth(design: Design): number {
  const { on, off } = pulseInstants(design).inhibit;
  return off - on;
}

/** A of one inhibit driver: both halves of a wire in two. */
const inhibitCurrent = (design: Design): number =>
  (design.winding.kind === 'shared-two-halves' ? 2 : 1) * driveLevels(design).inhibit;

/** A at `rate` cycles a second (Hz): quiescent + rate times charge. All bits ZERO, the worst data, unless told. */
export function supplyCurrent(design: Design, rate: number, zeros = design.mat.mats): number {
  return design.supply.quiescent + rate * cycleCharge(design, zeros).total;
}

/** s: the shortest period at which the average current keeps to the budget, all bits ZERO; Infinity: at none. */
export function periodBySupply(design: Design): number {
  const spare = design.supply.budget - design.supply.quiescent;
  return spare > 0 ? cycleCharge(design, design.mat.mats).total / spare : Infinity;
}

/** V of droop that a reservoir may have within a cycle, as a fraction of the supply (our own choice, no source). */
const DROOP = 0.01;

/** What pulses ask of the supply beyond its average. */
export interface PeakNeeds {
  /** A while the write lasts: X, Y, every inhibit driver, and what is drawn at rest. */
  readonly current: number;
  /** F that gives a whole cycle's charge and falls by 1 % meanwhile. */
  readonly reservoir: number;
}

export function peakNeeds(design: Design): PeakNeeds {
  const { mat, supply } = design;
  const { x, y } = driveLevels(design);
  const writing = x.write + y.write + mat.mats * inhibitCurrent(design);
  return {
    current: supply.quiescent + Math.max(writing, x.read + y.read),
    reservoir: cycleCharge(design, mat.mats).total / (DROOP * supply.voltage),
  };
}
