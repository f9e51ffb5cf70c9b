import type { CoreParameters } from '../design/core.ts';

/** One thing that is not known of a core, with the whole core at both its ends. */
export interface OpenParameter {
  readonly parameter: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly from: string;
  readonly cores: { readonly low: CoreParameters; readonly high: CoreParameters };
  /** The measurement that would narrow it, in words. */
  readonly measure: string;
}

/** What is not known of a design's core: parameter by parameter, and cores that could be the one which is known so far. */
export interface OpenCore {
  readonly parameters: readonly OpenParameter[];
  readonly draws: readonly CoreParameters[];
}

/** Least ONE and greatest ZERO at the corners with one core that it could be, V, and how far its own best strobe moves. */
export interface CoreTraces {
  readonly one: Float64Array;
  readonly zero: Float64Array;
  /** s: how much later the best strobe of these cores lies than that of the design's. */
  readonly later: number;
}

export interface CoreSet {
  readonly draws: readonly CoreTraces[];
  readonly ends: readonly {
    readonly of: OpenParameter;
    readonly low: CoreTraces | undefined;
    readonly high: CoreTraces | undefined;
  }[];
}
