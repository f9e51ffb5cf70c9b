import type { Measure } from './lesson.ts';
import type { Shown } from './shown.ts';

/** What the engine says of a question, in numbers only, so that it crosses from a worker. */
export interface Evaluated {
  readonly shown: Shown;
  readonly truth: OwnTruth;
  /** Why nobody could answer it rightly, and what can be reached. */
  readonly refusal?: Refusal;
}

export type OwnTruth =
  /** `value`: what the engine finds, SI; undefined: the maker of the lesson says so. */
  | { readonly kind: 'choose'; readonly right: number; readonly value?: number }
  | { readonly kind: 'number'; readonly value: number }
  | Scan
  | { readonly kind: 'draw'; readonly so: readonly number[]; readonly time: readonly number[] };

/** Every place that a slider can stand at, and what comes of it. */
export interface Scan {
  readonly kind: 'scan';
  /** SI, rising. */
  readonly at: Float64Array;
  readonly got: Float64Array;
  /** Index of the place that comes to most, or to least where `sense` is 'atMost'. */
  readonly best: number;
  readonly sense: 'atLeast' | 'atMost';
  readonly target: number;
}

export type Refusal =
  /** No choice's limits hold what is so, or more than one's. */
  | { readonly code: 'choices'; readonly measure: Measure; readonly value: number; readonly holding: number }
  | { readonly code: 'nothing'; readonly measure: Measure }
  /** Three digits cannot come so near. */
  | { readonly code: 'tolerance'; readonly least: number }
  | {
      readonly code: 'target';
      readonly measure: Measure;
      readonly sense: Scan['sense'];
      readonly target: number;
      readonly reached: number;
      readonly at: number;
    }
  /** The nearest drawing that the plot allows is off by so much; the curve reaches so high and so low. */
  | { readonly code: 'drawing'; readonly off: number; readonly high: number; readonly low: number };
