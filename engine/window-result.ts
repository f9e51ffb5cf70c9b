import type { ByContribution } from './result.ts';

/**
 * The answer of the strobe analysis. Times in s from the start of read. Voltages are amplifier output referred
 * to the sense wire (divided by divider times gain), the way the detector sees them.
 */
export interface StrobeWindow {
  /** Why there is no window; undefined when there is one. */
  readonly reason: string | undefined;
  /** The opening at the design's threshold (or at the best one): the interval that holds `best`. */
  readonly strobe: { readonly start: number; readonly end: number; readonly width: number; readonly best: number } | undefined;
  /** Every interval that passes at the threshold in force. */
  readonly intervals: readonly { readonly start: number; readonly end: number }[];
  /** Band of thresholds that pass at the strobe in force. */
  readonly threshold: { readonly low: number; readonly high: number; readonly best: number } | undefined;
  /** Strobe and threshold in force: the design's, or the best where the design gives none. */
  readonly inForce: { readonly time: number; readonly threshold: number };
  readonly margin: {
    /** least ONE - threshold, V. */
    readonly one: number;
    /** threshold - greatest ZERO, V. */
    readonly zero: number;
    /** least ONE - greatest ZERO, V. */
    readonly total: number;
    /** 20 log10(least ONE / greatest ZERO). */
    readonly ratioDb: number;
  };
  /** Ten-nanosecond taps around the strobe and whether each passes. */
  readonly taps: readonly { readonly time: number; readonly pass: boolean }[];
  /** Middle of the longest run of three or more passing taps, the later of two; undefined when there is none. */
  readonly tap: number | undefined;
  /** Chance that one reading is wrong, from noise and jitter at the strobe in force. */
  readonly errorChance: number;
  /** What each cause adds at the strobe for the worst ONE and the worst ZERO, V at the sense wire. */
  readonly atStrobe: { readonly one: ByContribution<number>; readonly zero: ByContribution<number> };
  readonly envelope: {
    readonly time: Float64Array;
    /** Least ONE and greatest ZERO at each instant. */
    readonly one: Float64Array;
    readonly zero: Float64Array;
    /** Greatest ONE and least ZERO, the far side of each band. */
    readonly oneHigh: Float64Array;
    readonly zeroLow: Float64Array;
  };
  /** Corners of the (strobe, threshold) region in which both hold: for each time, the band; empty where closed. */
  readonly opening: readonly { readonly time: number; readonly low: number; readonly high: number }[];
  readonly cases: readonly WindowCase[];
}

export interface WindowCase {
  readonly name: string;
  readonly bit: 0 | 1;
  /** Which stored pattern, history and corner this run had, in words. */
  readonly pattern: string;
  /** Value at the strobe in force, V. */
  readonly atStrobe: number;
  /** True when this case sets the envelope at the strobe in force. */
  readonly defines: boolean;
}
