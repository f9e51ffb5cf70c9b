import { anotherAddress } from '../mat/another-address.ts';
import { referToWire } from '../sense-amplifier/referred.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { pulseInstants } from '../drive/programme.ts';
import { settledCycle } from '../estimates/cycle-limits.ts';
import { estimateRecovery, type RecoveryEstimate } from '../estimates/recovery.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { cycleEnd } from '../check/rules-drive.ts';
import { wirePath } from '../mat/winding.ts';
import { dutyReport, type DutyReport } from './worst-duty.ts';
import { finished } from '../solver/finished.ts';

type Simulate = (design: Design, options: SimulateOptions) => Simulation;

export interface RecoveryOptions {
  readonly simulate: Simulate;
  /** s between the end of one cycle's last edge and the next read; default: nine from 0 to the design's own and beyond. */
  readonly deadTimes?: readonly number[];
}

/** A long rest: so many times the longest dead time, so many time constants of the AC coupling, at most (s). */
const LONG_REST = 10;
const LONG_COUPLING = 12;
const LONGEST_REST = 500e-6;

/** What an inhibited cycle leaves for the next strobe when the read follows after a dead time. */
export interface DeadTimePoint {
  /** s from the end of the last edge to the start of read, and the period that makes. */
  readonly deadTime: number;
  readonly period: number;
  /** V on the sense wire at the strobe by inhibit alone, after an inhibited cycle and after one that wrote a ONE. */
  readonly inhibited: number;
  readonly written: number;
  /**
   * V at the amplifier's strobe that the inhibit of the cycle before still adds on top of what a long rest leaves
   * (`history`): wire, clamp, overload and AC coupling together.
   */
  readonly left: number;
}

/** The inhibit's tail by full runs, beside the estimate from closed forms. */
export interface RecoveryReport {
  readonly estimate: RecoveryEstimate;
  /** s, by estimate and by the simulated tail: the shortest period whose next read starts under the target. */
  readonly shortestCycle: { readonly estimated: number; readonly simulated: number };
  /**
   * s from the end of the inhibit edge until the amplifier's output, DC coupled for this, stays under the target;
   * Infinity: not within the longest dead time.
   */
  readonly tail: number;
  /** V: greatest sense voltage after the end of the inhibit edge. */
  readonly kick: number;
  readonly deadTimes: readonly DeadTimePoint[];
  /**
   * V at the strobe between a read after an inhibited and after an uninhibited cycle when the rest between was long:
   * the inhibit has disturbed every core of the mat, which no dead time undoes.
   */
  readonly history: number;
  /** What the share of inhibited cycles does through AC coupling, at the design's period. */
  readonly duty: DutyReport;
}

/**
 * Current left in the wire after turn-off, as the next strobe meets it. Full runs: one long inhibited cycle gives the
 * tail; pairs of cycles (an inhibited or an uninhibited one at an address that shares no line, then the read) give
 * the next strobe against dead time.
 */
export function recoveryReport(design: Design, { simulate, deadTimes }: RecoveryOptions): RecoveryReport {
  const estimate = estimateRecovery(design);
  const end = cycleEnd(design);
  const own = Math.max(0, design.cycle.period - end);
  const longest = Math.max(own, 4 * estimate.time);
  const times = deadTimes ?? [0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1].map((part) => part * longest);
  const { tail, kick, inhibitEnd } = findTail(design, end + longest, estimate.target, simulate);
  const points = times.map((deadTime) => atDeadTime(design, deadTime, end + deadTime, simulate));
  const coupling =
    design.amplifier.highPass > 0 ? LONG_COUPLING / (2 * Math.PI * design.amplifier.highPass) : 0;
  const rest = Math.min(LONGEST_REST, Math.max(LONG_REST * Math.max(longest, ...times), coupling));
  const history = atDeadTime(design, rest, end + rest, simulate).difference;
  return {
    estimate,
    shortestCycle: { estimated: settledCycle(design), simulated: Math.max(end, inhibitEnd + tail) },
    tail,
    kick,
    deadTimes: points.map(({ difference, ...point }) => ({ ...point, left: difference - history })),
    history,
    duty: dutyReport(design, simulate),
  };
}

/** Signed values need an amplifier that does not rectify. */
function plain(design: Design, period: number, highPass = design.amplifier.highPass): Design {
  return {
    ...design,
    cycle: { ...design.cycle, period },
    amplifier: { ...design.amplifier, polarity: 'address', highPass },
  };
}

function findTail(
  design: Design,
  period: number,
  target: number,
  simulate: Simulate,
): { tail: number; kick: number; inhibitEnd: number } {
  const { row, column } = design.selected;
  const run = finished(
    simulate(
      {
        ...plain(design, period, 0),
        selected: { row, column, bit: 0 },
        programme: [{ row, column, lines: 'both', read: true, write: 'zero' }],
      },
      { contributions: false, estimateError: false, balance: false, coupling: 0 },
    ),
  );
  const inhibitEnd = pulseInstants(design).inhibit.off + design.drive.inhibit.fall;
  const heard = referToWire(design.amplifier, run.amplifierOutput);
  let last = -1;
  let kick = 0;
  for (let i = 0; i < run.time.length; i++) {
    if (run.time[i]! < inhibitEnd) continue;
    kick = Math.max(kick, Math.abs(run.senseVoltage[i]!));
    if (Math.abs(heard[i]!) >= target) last = i;
  }
  const tail = last < 0 ? 0 : last === run.time.length - 1 ? Infinity : run.time[last + 1]! - inhibitEnd;
  return { tail, kick, inhibitEnd };
}

function atDeadTime(
  design: Design,
  deadTime: number,
  period: number,
  simulate: Simulate,
): Omit<DeadTimePoint, 'left'> & { readonly difference: number } {
  const { row, column } = design.selected;
  const elsewhere = anotherAddress(design.mat, design.selected);
  const sign = wirePath(design).polarity[row * design.mat.columns + column]!;
  const read: Cycle = { row, column, lines: 'both', read: true, write: 'none' };
  const after = (write: 'zero' | 'one'): { inhibit: number; value: number } => {
    const before: Cycle = { ...elsewhere, lines: 'both', read: true, write };
    const at = plain(design, period);
    const run = finished(
      simulate(
        { ...at, programme: [before, read] },
        {
          estimateError: false,
          balance: false,
          coupling: 0,
          until: design.strobe.time ?? design.cycle.readWidth,
        },
      ),
    );
    const seen = run.strobe.time - design.detector.delay;
    return {
      inhibit: sign * valueAt(run.time, run.contributions!.inhibit, seen),
      value: run.strobe.value,
    };
  };
  const inhibited = after('zero');
  const written = after('one');
  return {
    deadTime,
    period,
    inhibited: inhibited.inhibit,
    written: written.inhibit,
    difference: inhibited.value - written.value,
  };
}
