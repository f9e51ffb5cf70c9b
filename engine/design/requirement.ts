/**
 * Which cases count in a verdict. `nominal`: all patterns, disturb states, addresses and histories, parts as stated;
 * `corners`: the same with drive, supply, temperature, threshold and strobe at the ends stated; `parts`: chance that a
 * whole mat and a whole stack of parts as they come read every bit; `core`: the corners again over what is not known of
 * the core; `numbers`: the run's own error at the strobe.
 */
export const SET_NAMES = ['nominal', 'corners', 'parts', 'core', 'numbers'] as const;
export type SetName = (typeof SET_NAMES)[number];

/** What the builder asks for; compared with the result by --require and the page. */
export interface Requirement {
  /** V of margin on the worse side of the threshold, its uncertainty taken off; referred to the sense wire. */
  readonly margin: number;
  /** s of strobe window. */
  readonly width: number;
  /**
   * V at the sense wire: half-selected cores that add this much or more to the greatest ZERO at the strobe are
   * noticed. Left out: what the threshold leaves after its uncertainty.
   */
  readonly halfSelectNoise?: number | undefined;
}

/** What a design asks for, and of which sets. */
export interface DesignRequirement extends Requirement {
  /** Sets that decide the verdict of the design; the others are told without deciding. */
  readonly sets: readonly SetName[];
  /** Least share of whole stacks (0..1) that read every bit, for the set `parts`. */
  readonly yield: number;
}

/** One standard deviation as a fraction unless said otherwise; used by tolerance studies and corners. */
export interface Tolerances {
  readonly coreThreshold: number;
  readonly coreFlux: number;
  readonly coreElastic: number;
  /** Correlation between a core's threshold and its flux, -1..1. */
  readonly coreCorrelation: number;
  readonly drive: number;
  /** Of the inhibit current; as `drive` where a design does not say. */
  readonly inhibit: number;
  readonly edge: number;
  readonly termination: number;
  readonly threshold: number;
  /** s rms of the strobe's setting. */
  readonly strobe: number;
  /** Error of a drive's temperature coefficient as a fraction of it. */
  readonly tracking: number;
  /** K: how far the cores may be from the temperature that drives follow. */
  readonly gradient: number;
  /** K: half-range of temperature about the design's. */
  readonly temperature: number;
  /** Half-range of the supply as a fraction: it moves every drive amplitude, and the threshold with them. */
  readonly supply: number;
}

export interface Supply {
  /** V of the drive supply. */
  readonly voltage: number;
  /** A drawn at rest. */
  readonly quiescent: number;
  /** C drawn each cycle regardless of data (logic, sense amplifiers). */
  readonly chargePerCycle: number;
  /** V that transistors, diodes and leads in series with a line keep for themselves. */
  readonly headroom: number;
  /** F beside the drivers; undefined: none is counted on. */
  readonly reservoir?: number | undefined;
  /** A that the supply may give. */
  readonly budget: number;
}
