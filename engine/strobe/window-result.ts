import type { CaseOverrides } from './case-overrides.ts';
import type { ByContribution } from '../network/causes.ts';
import type { ChainStep } from './chain-step.ts';
import type { LedgerEntry } from './ledger-entry.ts';
import type { Verdict } from './verdict-of-sets.ts';

/**
 * The answer of the strobe analysis. Times in s from the start of read. Voltages are amplifier output referred
 * to the sense wire (divided by divider times gain), the way the detector sees them.
 */
export interface StrobeWindow {
  /** Does it read, which set of cases decides, and by how much. */
  readonly verdict: Verdict;
  /** From the selected core's signal to what is left of the margin on the side that decides, step by step; it sums up. */
  readonly chain: readonly ChainStep[];
  /** The side of the threshold that `chain` is about. */
  readonly chainSide: 'one' | 'zero';
  /** What decides the answer and was not given, most telling first; empty in a quick answer. */
  readonly ledger: readonly LedgerEntry[];
  /** Why there is no window; undefined when there is one. */
  readonly reason: string | undefined;
  /** What closes it: the ONE too low, the ZERO too high, or what is uncertain of threshold or strobe; undefined when open. */
  readonly closedBy?: 'one' | 'zero' | 'threshold' | 'strobe';
  /** The opening at the design's threshold (or at the best one): the interval that holds `best`. */
  readonly strobe:
    | { readonly start: number; readonly end: number; readonly width: number; readonly best: number }
    | undefined;
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
    /** The smaller of `one` and `zero` less what is uncertain of the threshold: what a requirement is held against, V. */
    readonly left: number;
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
    /** Least ONE and greatest ZERO as the latch sees them at each strobe time: one detector delay after the signal. */
    readonly one: Float64Array;
    readonly zero: Float64Array;
    /** Greatest ONE and least ZERO, the far side of each band. */
    readonly oneHigh: Float64Array;
    readonly zeroLow: Float64Array;
  };
  /** Corners of the (strobe, threshold) region in which both hold: for each time, the band; empty where closed. */
  readonly opening: readonly { readonly time: number; readonly low: number; readonly high: number }[];
  readonly cases: readonly WindowCase[];
  /**
   * The pair of strobe and threshold farthest from the edge of the opening: the box of `distance` times the stated
   * uncertainty in time and in voltage about it just fits. At least 1 where there is a window. Undefined when the
   * least ONE is nowhere above the greatest ZERO.
   */
  readonly bestPair?: BestPair;
  /** Chance of a wrong bit over the threshold's stated uncertainty: least and greatest. */
  readonly errorChanceRange?: { readonly low: number; readonly high: number };
  /** s from the strobe in force to either edge of the interval that holds it; undefined outside every interval. */
  readonly distance?: { readonly toStart: number; readonly toEnd: number };
  /** What the detector puts out for the least ONE and the greatest ZERO. */
  readonly pulses?: DetectorPulses;
  /** The same with the corners of drive, supply, temperature, threshold and strobe counted; undefined when not asked for. */
  readonly corners?: CornerWindow;
  /** The strobe and threshold in force when cycles follow each other faster; the design's own period first. */
  readonly overRate?: readonly RateWindow[];
  /** What a builder must know besides the numbers, e.g. a ONE that would be read as a ZERO. */
  readonly notices?: readonly WindowNotice[];
}

/** The window that is left at the corners of the design's tolerances, at the strobe and threshold in force. */
export interface CornerWindow {
  readonly reason: StrobeWindow['reason'];
  readonly strobe: StrobeWindow['strobe'];
  readonly threshold: StrobeWindow['threshold'];
  readonly margin: StrobeWindow['margin'];
  readonly distance?: StrobeWindow['distance'];
  readonly bestPair: BestPair | undefined;
  readonly pulses: StrobeWindow['pulses'];
  /** Names of the cases that set the least ONE and the greatest ZERO at the strobe in force. */
  readonly one: string;
  readonly zero: string;
  /**
   * Least ONE and greatest ZERO over all cases and corners as the latch sees them at each strobe time, V (of a moved
   * supply in parts of the moved threshold), and which case sets each: an index into the window's `cases`.
   */
  readonly envelope: {
    readonly time: Float64Array;
    readonly one: Float64Array;
    readonly zero: Float64Array;
    readonly oneCase: Int32Array;
    readonly zeroCase: Int32Array;
  };
}

/** What one cycle rate leaves at the strobe and threshold in force. */
export interface RateWindow {
  /** s from one read to the next. */
  readonly period: number;
  readonly strobe: StrobeWindow['strobe'];
  readonly margin: StrobeWindow['margin'];
  readonly pulses: StrobeWindow['pulses'];
}

/** The detector's output, delay included, s. */
export interface DetectorPulses {
  readonly one: readonly { readonly start: number; readonly end: number }[];
  readonly zero: readonly { readonly start: number; readonly end: number }[];
  /**
   * s by which the output for the greatest ZERO has fallen before the strobe; negative: so much longer it stays
   * high. Undefined when it was not high before the strobe.
   */
  readonly zeroFallen: number | undefined;
  /** s for which the output for the least ONE is high before and after the strobe; undefined when it is low. */
  readonly oneHeld: { readonly before: number; readonly after: number } | undefined;
}

export interface WindowNotice {
  readonly code: 'false-zero' | 'false-one' | 'half-select-noise' | 'run-failed' | 'limited' | 'overload';
  readonly message: string;
  readonly value: number;
  readonly limit: number;
}

export interface WindowCase {
  readonly name: string;
  readonly bit: 0 | 1;
  /** Which stored pattern, history and corner this run had, in words. */
  readonly pattern: string;
  /** Value at the strobe in force, V; at a corner of the supply the threshold has moved too. */
  readonly atStrobe: number;
  /** True when this case sets the envelope at the strobe in force. */
  readonly defines: boolean;
  /** What to change in the design to run this case alone (see `applyOverrides`); {} is the design as it stands. */
  readonly overrides?: CaseOverrides;
  /** True for a corner of drive, supply and temperature: it counts in `corners` alone. */
  readonly corner?: boolean;
}

export interface BestPair {
  readonly time: number;
  readonly threshold: number;
  readonly distance: number;
}

/** The part of a StrobeWindow that follows from envelopes alone and changes with strobe and threshold. */
export type WindowAnswer = Omit<
  StrobeWindow,
  | 'verdict'
  | 'chain'
  | 'chainSide'
  | 'ledger'
  | 'corners'
  | 'atStrobe'
  | 'envelope'
  | 'opening'
  | 'cases'
  | 'bestPair'
>;
