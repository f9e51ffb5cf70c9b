import type { Json, Patch } from '../base/json-patch.ts';
import type { Observed } from '../fitting/compare.ts';
import type { FitCapture } from '../fitting/fit-captures.ts';
import type { FitResult } from '../fitting/fit-result.ts';
import type { UnknownName } from '../fitting/unknown-table.ts';
import { missedShare } from './shortcoming.ts';

/** One value that captures told: where it stands in the design, and how far it may be off. */
export interface KnownValue {
  readonly name: UnknownName;
  /** SI, of the unknown's first field. */
  readonly value: number;
  /** SI, standard deviation; infinite where the captures say nothing about it. */
  readonly deviation: number;
  /** SI, standard deviation before the captures spoke; undefined: nothing was believed but its bounds. */
  readonly before?: number | undefined;
  /** SI: how far it might go at all. */
  readonly bounds: { readonly low: number; readonly high: number };
}

/** Under which conditions a capture was taken, and how well the design gives it. */
export interface MeasuredAt {
  readonly label: string;
  readonly observed: Observed;
  /** Changes of the design under which it was taken. */
  readonly changes: readonly Patch[];
  /** s from the start of read: what it covers. */
  readonly from: number;
  readonly until: number;
  readonly samples: number;
  /** V: noise of a sample. */
  readonly noise: number;
  /** What the design misses beyond that, over the voltage nearby, rms. */
  readonly missed: number;
}

/**
 * What is known of a design from captures of it: all that a prediction takes from a fit. Of everything that is not
 * among `values` the design's own ranges hold.
 */
export interface Knowledge {
  /** The design file as fitted: what the captures changed stands in it. */
  readonly design: Json;
  readonly values: readonly KnownValue[];
  /** Of the values, row by row. */
  readonly correlations: readonly (readonly number[])[];
  readonly captures: readonly MeasuredAt[];
}

/** A design with what is known of it; of a design alone nothing was measured beyond what its core's ranges say. */
export type Known = Pick<Knowledge, 'design'> & Partial<Knowledge>;

export const wholeKnowledge = (known: Known): Knowledge => ({
  values: [],
  correlations: [],
  captures: [],
  ...known,
});

/** Standard deviations from the middle to an end of a 95 % interval. */
export const REACH = 1.96;

/**
 * What a fit tells, as a prediction takes it: its design, values in SI with their deviations, and its captures.
 *
 * @param captures as they were given to the fit, in its order
 */
export const knowledgeOf = (
  fit: Pick<FitResult, 'design' | 'unknowns' | 'correlations' | 'captures'>,
  captures: readonly Pick<FitCapture, 'observed' | 'changes'>[],
): Knowledge => ({
  design: fit.design,
  values: fit.unknowns.map(({ name, value, before, bounds, interval: { low, high } }) => {
    // What has one sign is told by factors.
    const half = low > 0 ? (value * Math.log(high / low)) / 2 : (high - low) / 2;
    return { name, value, deviation: Number.isFinite(half) ? half / REACH : Infinity, before, bounds };
  }),
  correlations: fit.correlations.map((row, i) =>
    row.map((r, j) => (i === j ? 1 : Number.isFinite(r) ? r : 0)),
  ),
  captures: fit.captures.map(({ label, comparison }, i) => {
    const { time, noise } = comparison;
    return {
      label,
      observed: captures[i]?.observed ?? 'sense',
      changes: captures[i]?.changes ?? [],
      from: time[0] ?? 0,
      until: time[time.length - 1] ?? 0,
      samples: time.length,
      noise,
      missed: missedShare(comparison),
    };
  }),
});
