import type { ByContribution } from '../network/causes.ts';
import type { CoreFlux } from '../core/flux-of-cores.ts';
import type { CoreSpread } from '../network/class-members.ts';
import type { Design } from '../design/design.ts';

/** Energies in joule over the observed cycle; residual = source - resistive - stored - cores. */
export interface EnergyBalance {
  readonly source: number;
  readonly resistive: number;
  readonly stored: number;
  readonly cores: number;
  readonly residual: number;
  /** What the sources gave while they gave (`source` less what came back to them); the residual is judged by this. */
  readonly delivered: number;
}

/** What the selected core did, one value per output sample. */
export interface SelectedCoreTrace {
  /** Wb: phi + psi + phi_el, the flux linkage of one turn. */
  readonly flux: Float64Array;
  /** Wb: phi alone, the stored state. */
  readonly state: Float64Array;
  /** A: ampere-turns F. */
  readonly drive: Float64Array;
}

export interface StrobeReading {
  /** s from the start of read. */
  readonly time: number;
  /** V referred to the sense wire. */
  readonly threshold: number;
  /** Amplifier output at that instant, referred to the sense wire, V. */
  readonly value: number;
  readonly bit: 0 | 1;
}

/**
 * How a run ended. A run that goes wrong is a named outcome, so that one bad sample does not end a study; one whose energy
 * does not close is 'not-settled'.
 */
export type Outcome =
  | { readonly kind: 'done' }
  | {
      readonly kind: 'not-finite' | 'not-settled' | 'cancelled';
      readonly time: number;
      readonly advice: string;
    };

/**
 * What a run is wrong by through its steps and sections, V, estimated from itself; not what the model leaves out. To get
 * a smaller one, run again with `SimulateOptions.finer` (run-error.ts says how much).
 */
export interface RunError {
  /** Greatest error of senseVoltage over the cycle, and from 25 ns after a slope jump on. */
  readonly senseVoltage: number;
  readonly betweenEdges: number;
  /** Error of senseVoltage against time, one value per output sample: the greatest within 5 ns about it. */
  readonly trace: Float64Array;
}

/**
 * One run, observed over the last cycle of the programme. Arrays over time are all of one length, uniform in
 * time with spacing design.numerics.output (s); t = 0 is the start of the observed read. Look at `outcome` first: after a
 * run that went wrong the rest is not to be used.
 */
export interface Simulation {
  readonly design: Design;
  readonly outcome: Outcome;
  readonly time: Float64Array;
  /** V at the amplifier's terminals, u = v_B - v_A. */
  readonly senseVoltage: Float64Array;
  /** V, mean of the two terminals against the surroundings. */
  readonly commonMode: Float64Array;
  /** Undefined when the run was asked not to split. */
  readonly contributions: ByContribution<Float64Array> | undefined;
  /** V at the detector (multiplied by gain), full-wave rectified or not as the design says. */
  readonly amplifierOutput: Float64Array;
  /** 1 while the detector is above its threshold. */
  readonly detectorOutput: Uint8Array;
  readonly currents: {
    readonly x: Float64Array;
    readonly y: Float64Array;
    /** Magnitude in the inhibit driver, A per wire. */
    readonly inhibit: Float64Array;
    /** Mean current in the sense wire, A, positive from A to B. */
    readonly sense: Float64Array;
  };
  readonly selected: SelectedCoreTrace;
  readonly strobe: StrobeReading;
  /**
   * V referred to the sense wire by which a quiet line lies too low because of the cycles before (AC coupling);
   * undefined when nothing went before or the amplifier is DC coupled.
   */
  readonly baseline?: number;
  readonly energy: EnergyBalance;
  /** Greatest relative flux-closure error over the wire sections: |integral of EMF dt - change of linkage| / swing. */
  readonly fluxClosure: number;
  /** Undefined when not asked for. */
  readonly error: RunError | undefined;
  /** What each core gave at the instants asked for, in their order; undefined when not asked for. */
  readonly shares?: readonly CoreShares[];
  readonly method: {
    readonly steps: number;
    readonly sections: number;
    readonly classes: number;
    readonly step: number;
    /** Cores solved with every step of the wire, or moved once in several steps of a long one. */
    readonly loop: 'coupled' | 'core steps';
  };
}

/** What every core induces in the sense wire at one instant: the mean over the solver's step that holds it. */
export interface CoreShares {
  /** s: the instant asked for, held within what was observed. */
  readonly time: number;
  /** V, row-major, one a core, signed as it counts in u = v_B - v_A; 0 for a core that is missing or not on the wire. */
  readonly emf: Float64Array;
  /** V: what all the cores induce together, from the linkages of the wire's sections. */
  readonly total: number;
}

export interface SimulateOptions {
  /** Split the sense voltage by cause (default true). */
  readonly contributions?: boolean;
  /** Estimate the error from a companion run with doubled step and half the sections (default true). */
  readonly estimateError?: boolean;
  /** Account for energy and flux closure (default true); without it both may be NaN. */
  readonly balance?: boolean;
  /** Bits stored before the programme, row-major, 0/1; default: the design's pattern with the selected bit. */
  readonly bits?: Uint8Array;
  /** Divide every step by this (default 1), leaving the sections as they are; tests of order use it. */
  readonly refine?: number;
  /**
   * Divide every step by this and cut the wire into so many times the sections: 1 (default), 2, 4 or 8. Errors fall with its
   * square and so does speed: for answers that need a smaller error than the design's own settings leave.
   */
  readonly finer?: number;
  /** s: observe the last cycle no longer than this (default: to its end). */
  readonly until?: number;
  /** Solve cores with every step of the wire on long wires too (default false): the reference for their own loop. */
  readonly coupled?: boolean;
  /** Per-core multipliers, row-major, for tolerance studies: every core becomes its own class. */
  readonly spread?: CoreSpread;
  /** State of every core before the programme instead of the design's, Wb, row-major; `bits` still say what is restored. */
  readonly initial?: CoreFlux;
  /** V on the amplifier's coupling capacitor before the programme; left out: from the design's cycle.inhibitedShare. */
  readonly coupling?: number;
  /** s from the start of the observed read: instants at which to tell what each core gives (default: none). */
  readonly sharesAt?: readonly number[];
  /** Polled now and then; true ends the run with outcome 'cancelled'. */
  readonly cancelled?: () => boolean;
}
