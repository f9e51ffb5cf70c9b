import type { Design } from '../design/design.ts';
import { cycleEnd } from '../check/rules-drive.ts';
import { pulseInstants } from '../drive/programme.ts';
import { estimateRecovery, TAIL_FRACTION } from './recovery.ts';
import { periodBySupply } from './supply-needs.ts';

/** What a cycle cannot be shorter than, each in s. */
export interface CycleLimits {
  /** Read, gap, write and inhibit with their edges. */
  readonly pulses: number;
  /** The same until the tail of the inhibit is under its part of the threshold. */
  readonly settled: number;
  /** The longer of the two and the machine's own time (cycle.overhead). */
  readonly timing: number;
  /** At which the average current keeps to the supply's budget, all bits ZERO; Infinity: at none. */
  readonly supply: number;
  readonly shortest: number;
  readonly setBy: 'pulses' | 'tail' | 'supply';
}

export function cycleLimits(design: Design): CycleLimits {
  const pulses = cycleEnd(design);
  const settled = settledCycle(design);
  const timing = settled + design.cycle.overhead;
  const supply = periodBySupply(design);
  const setBy = supply > timing ? 'supply' : settled > pulses ? 'tail' : 'pulses';
  return { pulses, settled, timing, supply, shortest: Math.max(timing, supply), setBy };
}

/** s from the start of read until the next could follow without a trace of this cycle: programme, then the inhibit's tail. */
export function settledCycle(design: Design, fraction = TAIL_FRACTION): number {
  const at = pulseInstants(design);
  const inhibitOver = at.inhibit.off + design.drive.inhibit.fall;
  return Math.max(cycleEnd(design), inhibitOver + estimateRecovery(design, fraction).time);
}

/** s: the shortest cycle that pulses, tail, the machine's own time and the supply allow. */
export const shortestCycle = (design: Design): number => cycleLimits(design).shortest;
