import type { Design } from '../design/design.ts';
import type { Shortcoming } from './shortcoming.ts';
import type { ShownTrace } from './standing.ts';

/** A value with the ends of its 95 % interval, SI. */
export interface Held {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** A trace with a band that holds each single instant of it in 95 of 100. */
export interface HeldTrace {
  readonly name: ShownTrace;
  /** Which case it is, in words. */
  readonly case: string;
  /** V where the probe is, at `time`. */
  readonly value: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** Something in which the design lies outside what was measured. */
export interface Outside {
  readonly what:
    'drive' | 'half-select' | 'field' | 'temperature' | 'size' | 'winding' | 'zero' | 'disturbed';
  readonly measured: string;
  readonly asked: string;
  /** V, plus or minus: what comes of it in the margin, as part of its interval; undefined where nothing can be said. */
  readonly matters: number | undefined;
  /** What that is made of, or why nothing can be said. */
  readonly why: string;
}

/** What a design will do, how far that may be off, and why. SI; times in s from the start of read. */
export interface Prediction {
  readonly design: Design;
  readonly observed: 'sense' | 'amplifier';
  /** How many captures it rests on. */
  readonly captures: number;
  readonly time: Float64Array;
  readonly traces: readonly HeldTrace[];
  /** Of the design's own ONE, where the probe is. */
  readonly peak: Held;
  readonly peakTime: Held;
  /** The best strobe, s; the threshold in the middle between least ONE and greatest ZERO at the strobe in force, V. */
  readonly strobe: Held;
  readonly threshold: Held;
  /** V at the strobe in force: as designed, and at the corners. */
  readonly margin: Held;
  readonly corners: Held;
  readonly outside: readonly Outside[];
  /** What the interval of the margin (at the corners) is made of, widest first: V, plus or minus, each by itself. */
  readonly parts: readonly { readonly name: string; readonly reach: number }[];
  /** How well straight lines hold between here and the ends, by full runs at them. */
  readonly straight: {
    readonly runs: number;
    /** Of the margin at the corners and of the peak: full run less straight line over half the interval, the worse end. */
    readonly margin: number;
    readonly peak: number;
    readonly holds: boolean;
  };
  readonly short: Shortcoming;
  readonly runs: number;
}
