import type { CoreParameters } from '../../engine/design/design.ts';
import type { RawDesign } from '../model/pointer.ts';

/** One number of a step's answer, computed live. */
interface Answer {
  readonly name: string;
  readonly value: string;
}

/** What is drawn of a step. */
export interface Exhibit {
  /** Sense voltage or another trace over time, drawn with the page's own chart. */
  readonly traces: readonly StepTrace[];
  readonly quantity: { readonly symbol: string; readonly unit: string };
  /** s shown. */
  readonly span: readonly [number, number];
}

/** What a computed step shows. */
export interface StepResult extends Exhibit {
  readonly answers: readonly Answer[];
  /** The way of the core over its own loop, where that is what the step is about. */
  readonly loop?: StepLoop;
  /** Where the latch looks, s, at which threshold, V, and the window around it. */
  readonly place?: {
    readonly strobe: number;
    readonly threshold: number;
    readonly strobeZones: readonly { readonly from: number; readonly to: number }[];
  };
  /** What the reader's answer is held against. */
  readonly truth: Truth;
}

/** What is asked of the reader before anything is shown. */
export type Ask =
  | { readonly kind: 'choose'; readonly choices: readonly Choice[] }
  | {
      readonly kind: 'number';
      /** In which the number is asked and told; empty for a pure number. */
      readonly unit: string;
      /** How far off still counts as right, as a part of the true value. */
      readonly within: number;
      readonly tooLow: string;
      readonly tooHigh: string;
    }
  | { readonly kind: 'place'; readonly early: string; readonly late: string }
  | {
      readonly kind: 'draw';
      /** s: where the points stand. */
      readonly at: readonly number[];
      /** V: the height of the empty plot. */
      readonly most: number;
    };

export interface Choice {
  readonly text: string;
  /** Why it is not so, and what to try: told to whoever chose it in error. */
  readonly whyNot: string;
}

/** What the engine's numbers say, in the form that is asked for. */
export type Truth =
  | { readonly kind: 'choose'; readonly right: number }
  | { readonly kind: 'number'; readonly value: number }
  | {
      readonly kind: 'place';
      /** s: the best instant. */
      readonly best: number;
      /** V: margin left at an instant, s; negative where the worst case reads wrong. */
      readonly leftAt: (time: number) => number;
    }
  | { readonly kind: 'draw'; readonly curve: StepTrace };

/** Ampere-turns (A) and stored flux (Wb) along the cycle. */
export interface StepLoop {
  readonly core: CoreParameters;
  readonly drive: Float64Array;
  readonly state: Float64Array;
}

export interface StepTrace {
  readonly label: string;
  readonly style: 'one' | 'zero' | 'direct' | 'half' | 'selected' | 'inhibit';
  readonly time: Float64Array;
  readonly values: Float64Array;
}

/** One step of a lesson: read, predict, reveal. */
export interface Step {
  readonly id: string;
  readonly title: string;
  /** Gives nothing of the answer away. */
  readonly text: string;
  readonly question: string;
  /** What is seen before the question is answered, where it is about a picture. */
  readonly exhibit?: () => Exhibit;
  readonly ask: Ask;
  /** The small design that the step runs on; shown to the reader, and opened in the planning view on request. */
  readonly design: RawDesign;
  /** Runs the engine. */
  readonly compute: () => StepResult;
  /** What the numbers mean, after the reveal. */
  readonly meaning: string;
}

/** Steps that belong together, in rising difficulty. */
export interface Lesson {
  readonly id: string;
  readonly title: string;
  readonly steps: readonly Step[];
}
