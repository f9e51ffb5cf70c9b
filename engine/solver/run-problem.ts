import type { CoreClasses } from '../network/core-classes.ts';
import type { Coupling } from '../network/coupling.ts';
import type { CycleProgramme } from '../drive/programme.ts';
import type { Sections } from '../network/sections.ts';
import type { DriveFactors } from './core-state.ts';
import type { LineModel } from './drive-line.ts';
import type { EndVoltages } from './end-voltages.ts';
import type { CoreShares, EnergyBalance } from './result.ts';
import type { StepRule } from './time-grid.ts';

/** One cycle of the run: waveforms and who sees them. */
export interface CycleRun {
  readonly programme: CycleProgramme;
  readonly factors: DriveFactors;
  readonly coupling: Coupling;
}

/** Everything that the time loop needs, prepared by simulate.ts. */
export interface Problem {
  readonly sections: Sections;
  readonly classes: CoreClasses;
  readonly cycles: readonly CycleRun[];
  /** s, of every cycle. */
  readonly period: number;
  /** s: the last cycle is followed no longer than this. */
  readonly until: number;
  /**
   * s for which wire and amplifier remember what they hear: of the cycle before the observed one, what lies further back counts
   * by the states alone in which it leaves the cores. Infinity where it is not known, or the steps are stated.
   */
  readonly memory: number;
  readonly lineX: LineModel;
  readonly lineY: LineModel;
  /** V, clamp at the nodes where the inhibit current enters; Infinity = none. */
  readonly clamp: number;
  /** s for which a current may outlive its pulse: behind a voltage source; 0 for current sources. */
  readonly linger: number;
  /** A loop of so little resistance that the guess of a step is settled (tight-loop.ts). */
  readonly tight: boolean;
  /** The current of a line is solved for somewhere, so that it may land between two instants (settle-landing.ts). */
  readonly lands: boolean;
  readonly rule: StepRule;
  /** Cores are moved once in several steps of the wire (long-wire/long-wire.ts). */
  readonly byCores: boolean;
  readonly refine: number;
  readonly split: boolean;
  /** Account for energy and flux closure. */
  readonly balance: boolean;
  /** s: instants at which to tell what each core gives. */
  readonly sharesAt: readonly number[];
  readonly cancelled: (() => boolean) | undefined;
}

/** The observed cycle on the solver's own instants. */
export interface Recording {
  readonly time: Float64Array;
  /** 1 where the step that starts at the instant begins after a slope jump. */
  readonly jumps: Uint8Array;
  /** V at end A and end B. */
  readonly endA: Float64Array;
  readonly endB: Float64Array;
  /** v_B - v_A by cause, V, in the order of CONTRIBUTIONS; empty when not asked for. */
  readonly parts: readonly Float64Array[];
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inhibit: Float64Array;
  /** Mean current of the wire, A. */
  readonly wire: Float64Array;
  readonly selectedFlux: Float64Array;
  readonly selectedState: Float64Array;
  readonly selectedDrive: Float64Array;
  readonly shares: readonly CoreShares[];
  readonly energy: EnergyBalance;
  /** Greatest |integral of EMF dt - change of linkage| of a section over the greatest swing of its linkage. */
  readonly fluxClosure: number;
  /** Steps of all cycles. */
  readonly steps: number;
  /** V at both ends in the cycle before the observed one; undefined when there is none. */
  readonly before: EndVoltages | undefined;
  readonly failedAt: number | undefined;
  readonly cancelledAt: number | undefined;
}
