import type { CoreRanges } from '../../design/core-ranges.ts';
import type { CoreParameters, CoreTest } from '../../design/core.ts';

/**
 * What a handbook, or a bench with one core on two wires, gives. Times run from the start of a linear rise. All
 * voltages are magnitudes per turn of the sense wire.
 */
export interface CoreHandbook {
  /** I_m, A: full drive (ampere-turns) of read and write. */
  readonly fullDrive: number;
  /** s, 0 to 100 % of the linear edge of the drive. */
  readonly rise: number;
  /** uV1, V: peak of an undisturbed ONE. */
  readonly peakOne: number;
  /** t_p, s: start of the rise to that peak. */
  readonly peakTime: number;
  /** t_s, s: start of the rise to a tenth of the peak on the fall. */
  readonly switchTime: number;
  /** Half-select current of the disturb test as a fraction of I_m; default 0.60 (coincident current). */
  readonly disturbRatio?: number;
  /** V at the end of the rise: a half-selected undisturbed ONE and ZERO (half of I_m, the same rise); both or none. */
  readonly halfSelectOne?: number;
  readonly halfSelectZero?: number;
  /** dVz, V at the end of the rise: a disturbed ZERO under full drive; used when no half-select output is given. */
  readonly disturbedZero?: number;
  /** A and V: the peak of a ONE read at a second drive with the same rise; it tells F_0. Both or none. */
  readonly secondDrive?: number;
  readonly secondPeak?: number;
  /** Pulses of the disturb test; default 1,024. */
  readonly disturbs?: number;
  /**
   * V: what a full read gives after them, beyond the edge: peak of a ONE after half-reads (dV1), or of a ZERO after
   * half-writes. One of the two; it tells F_c.
   */
  readonly disturbedOne?: number;
  readonly disturbedPeak?: number;
  /** F_0 and F_c, A, when they were measured; otherwise from the readings above, or assumed. */
  readonly dynamicThreshold?: number;
  readonly coerciveDrive?: number;
  /** r, spread of the thresholds over the rings of the core, where it was measured; otherwise 0, and unknown. */
  readonly ringSpread?: number;
  /** 1/K. */
  readonly driveTemperatureCoefficient?: number;
  readonly fluxTemperatureCoefficient?: number;
  /** How far these values may be off, as a fraction of each (about two standard deviations); default 0.05. */
  readonly tolerance?: number;
  /** m. */
  readonly outsideDiameter: number;
  readonly insideDiameter: number;
  readonly height: number;
}

/** What the model core answers, read the way the bench reads it (V, s; times from the start of the rise). */
export interface CoreAnswers {
  readonly peakOne: number;
  readonly peakTime: number;
  readonly switchTime: number;
  readonly halfSelectOne: number;
  readonly halfSelectZero: number;
  /** V: peak of a ONE after the disturb train; ZEROs at the end of the rise, before and after it. */
  readonly disturbedOne: number;
  readonly undisturbedZero: number;
  readonly disturbedZero: number;
}

export interface HandbookCore {
  readonly parameters: CoreParameters;
  readonly achieved: CoreAnswers;
  /** What is not known of the parameters, and the test that they answer. */
  readonly range: CoreRanges;
  readonly test: CoreTest;
  /** One sentence for each value that had to be assumed. */
  readonly notes: readonly string[];
}

/**
 * A handbook that cannot be read, or values that no core of this model can have. The message is one sentence;
 * `field` is a JSON pointer into the handbook.
 */
export class HandbookError extends Error {
  override readonly name = 'HandbookError';
  readonly code = 'core-handbook';
  readonly field: string;
  constructor(field: string, message: string) {
    super(message);
    this.field = field === '' || field.startsWith('/') ? field : `/${field}`;
  }
}

/**
 * Half-select current of the disturb test over full drive, by way of selection.
 * Source: Jiewertz, Elteknik 2 (1959), p. 104, with Törnquist in the same volume, pp. 97-98.
 */
export const DISTURB_RATIOS = { coincidentCurrent: 0.6, linearSelect: 0.53 } as const;
