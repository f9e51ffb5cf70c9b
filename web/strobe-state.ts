import type { Requirement } from '../engine/index.ts';
import type { Run } from './run.ts';

/** What holds at one strobe time and threshold. */
export interface StrobeState {
  readonly time: number;
  readonly threshold: number;
  readonly margin: {
    readonly one: number;
    readonly zero: number;
    readonly total: number;
    readonly ratioDb: number;
  };
  /** The interval that holds `time`; undefined when the strobe lies in none. */
  readonly window: { readonly start: number; readonly end: number } | undefined;
  readonly intervals: readonly { readonly start: number; readonly end: number }[];
  readonly band: { readonly low: number; readonly high: number } | undefined;
  readonly errorChance: number;
  readonly required: Requirement;
}

export function strobeStateAt(run: Run, time: number, threshold: number): StrobeState {
  const w = run.window;
  const i = Math.round(time / 1e-9);
  const one = w.envelope.one[i]! - threshold,
    zero = threshold - w.envelope.zero[i]!;
  return {
    time,
    threshold,
    margin: { one, zero, total: one + zero, ratioDb: 12 },
    window: w.intervals.find((x) => x.start <= time && time <= x.end),
    intervals: w.intervals,
    band: w.threshold,
    errorChance: 1e-9,
    required: { margin: 0.005, width: 5e-8 },
  };
}
