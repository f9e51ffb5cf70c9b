import type { Json } from '../base/json-patch.ts';
import type { LineUp } from './align/line-up.ts';
import type { FitOutcome } from '../numerics/levenberg-marquardt.ts';
import type { BenchControl, Simulate } from './bench-runs.ts';
import type { Comparison } from './comparison.ts';
import type { FitCapture } from './fit-captures.ts';
import type { AskedRanges } from './unknown-ranges.ts';
import type { UnknownName } from './unknown-table.ts';

export interface FitRequest extends BenchControl {
  /** The design file to start from. */
  readonly design: Json;
  readonly captures: readonly FitCapture[];
  /** What is to be found; none: the captures are only lined up and compared. */
  readonly unknowns: readonly UnknownName[];
  /** Starts and bounds of unknowns that differ from those of the design, SI. */
  readonly ranges?: AskedRanges;
  readonly maxIterations?: number;
  readonly simulate?: Simulate;
}

export interface FittedUnknown {
  readonly name: UnknownName;
  readonly meaning: string;
  readonly unit: string;
  readonly start: number;
  /** How far it might go, SI. */
  readonly bounds: { readonly low: number; readonly high: number };
  readonly value: number;
  /** SI: its standard deviation before the captures spoke; undefined: nothing was believed of it but its bounds. */
  readonly before: number | undefined;
  /** SI; NaN when held at a bound, Infinity when the captures say nothing about it. */
  readonly standardError: number;
  /**
   * 95 % interval, of one sign where the quantity has one. It holds what the noise leaves open, what the model may be
   * wrong by, and what else is not known of the core.
   */
  readonly interval: { readonly low: number; readonly high: number };
  readonly atBound: 'lower' | 'upper' | undefined;
}

/** Gain of a probe, or Hz of a bandwidth, that was to be found, with its 95 % interval. */
export interface InstrumentFound {
  readonly what: 'gain' | 'bandwidth';
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * What a fit found, SI: values with intervals, what the captures cannot tell, what is left over in each of them, and a
 * new design file. Whether to believe it: `outcome`, `good` and `statements`.
 */
export interface FitResult {
  readonly outcome: FitOutcome;
  /** How it ended and how good it is, in sentences. */
  readonly statements: readonly string[];
  readonly unknowns: readonly FittedUnknown[];
  /** Of the unknowns, row by row. */
  readonly correlations: readonly (readonly number[])[];
  /** Combinations that the captures tell badly or not at all, in sentences. */
  readonly undetermined: readonly string[];
  readonly captures: readonly {
    readonly label: string;
    readonly lineUp: LineUp;
    readonly comparison: Comparison;
    /** What was found of the instrument itself. */
    readonly instrument: readonly InstrumentFound[];
  }[];
  /** Mean square of all differences over the noise's. */
  readonly reducedChiSquare: number;
  /** True when noise alone explains what is left in every capture. */
  readonly good: boolean;
  /** A new design file that says in its note where it comes from. */
  readonly design: Json;
  readonly iterations: number;
  readonly runs: number;
}
