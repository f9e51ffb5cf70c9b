import type { CoreClasses } from '../network/core-classes.ts';
import type { CoreState, DriveFactors, SectionSums } from './core-stepper.ts';
import type { Coupling } from '../network/coupling.ts';
import type { DriveLine, LineModel } from './drive-line.ts';
import type { CycleProgramme } from '../drive/programme.ts';
import type { Sections } from '../network/sections.ts';
import type { CoreShares, EnergyBalance } from './result.ts';
import type { StepRule } from './time-grid.ts';
import type { WireState } from './wire-state.ts';

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
  readonly lineX: LineModel;
  readonly lineY: LineModel;
  /** V, clamp at the nodes where the inhibit current enters; Infinity = none. */
  readonly clamp: number;
  /** s for which a current may outlive its pulse: behind a voltage source; 0 for current sources. */
  readonly linger: number;
  readonly rule: StepRule;
  readonly refine: number;
  readonly split: boolean;
  /** Keep the books of energy and flux closure. */
  readonly books: boolean;
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
  /** Main flux of every class at the end, Wb. */
  readonly finalPhi: Float64Array;
  /** V at both ends in the cycle before the observed one; undefined when there is none. */
  readonly before: Ear | undefined;
  readonly failedAt: number | undefined;
  readonly cancelledAt: number | undefined;
}

/** What an amplifier hears of a cycle, on the solver's own instants, s from the start of that cycle. */
export interface Ear {
  readonly time: Float64Array;
  /** As in Recording. */
  readonly jumps: Uint8Array;
  readonly endA: Float64Array;
  readonly endB: Float64Array;
}

/** What moves while the loop runs. */
export interface Run {
  readonly problem: Problem;
  readonly wire: WireState;
  readonly state: CoreState;
  readonly sums: SectionSums;
  readonly lines: readonly [DriveLine, DriveLine];
  /** Linkages of X, Y, separate inhibit and bias work with this mat's cores at the end of the step. */
  readonly linkages: Float64Array;
}
