import type { Unit } from '../../engine/base/units.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { BitsAsk, BoardAsk, Moved, SetAsk, Weighed } from './moved.ts';

/**
 * What a step is, without a word of it: boards, what is asked for, targets. Its texts stand under its id in
 * `words/`, one folder a language. A result holds codes and numbers only, so that it can be computed in a worker.
 */
export interface Step {
  readonly id: string;
  /** What is seen before the question is answered, where it is about a picture. */
  readonly exhibit?: () => Exhibit;
  readonly ask: Ask;
  /** The small design that the step runs on; it stands on the stage while the step is played. */
  readonly design: RawDesign;
  /** Runs the engine. */
  readonly compute: () => StepResult;
  /** Runs it on what the reader has set, where that is what is asked for. */
  readonly weigh?: (moved: Moved) => Weighed;
}

/** Steps that belong together, in rising difficulty. */
export interface Lesson {
  readonly id: string;
  readonly steps: readonly Step[];
}

/** A number to be told: SI, of a part in '%'. */
export interface Figure {
  readonly value: number;
  readonly unit: Unit | '%';
  /** Significant ones. */
  readonly digits: number;
}

/** One line of a step's answer, computed live. */
export interface Answer {
  /** Key of its name in the step's words. */
  readonly name: string;
  /** What stands for `{}` in that name. */
  readonly of?: Figure;
  /** None: there is none of it. */
  readonly figures: readonly Figure[];
  /** What stands between two figures. */
  readonly joined?: 'at' | 'to' | 'and';
}

/** What is drawn of a step. */
export interface Exhibit {
  /** Sense voltage or another trace over time, drawn with the page's own chart. */
  readonly traces: readonly StepTrace[];
  readonly quantity: { readonly symbol: string; readonly unit: string };
  /** s shown. */
  readonly span: readonly [number, number];
  /** V: lines that go higher are cut off there, and that is told. */
  readonly top?: number;
  /** As the latch hears it: every voltage counts as positive. */
  readonly rectified?: true;
}

/** What a computed step shows. */
export interface StepResult extends Exhibit {
  readonly answers: readonly Answer[];
  /** The way of the core over its own loop, where that is what the step is about. */
  readonly loop?: StepLoop;
  /** Where the latch looks, s (missing where that is asked for), at which threshold, V, and the window around it. */
  readonly place?: {
    readonly strobe?: number;
    readonly threshold: number;
    readonly strobeZones: readonly { readonly from: number; readonly to: number }[];
  };
  /** What the reader's answer is held against. */
  readonly truth: Truth;
}

/** What is asked of the reader before anything is shown. */
export type Ask =
  | {
      readonly kind: 'choose';
      /** Keys of the choices in the step's words, in their order. */
      readonly choices: readonly string[];
    }
  | {
      readonly kind: 'number';
      /** In which the number is asked and told; empty for a pure number. */
      readonly unit: string;
      /** How far off still counts as right, as a part of the true value. */
      readonly within: number;
    }
  | { readonly kind: 'place' }
  | SetAsk
  | BitsAsk
  | BoardAsk
  | {
      readonly kind: 'draw';
      /** s: where the points stand. */
      readonly at: readonly number[];
      /** V: the height of the empty plot. */
      readonly most: number;
    };

/** What the engine's numbers say, in the form that is asked for. */
export type Truth =
  | {
      readonly kind: 'choose';
      /** Place in the order of the choices. */
      readonly right: number;
    }
  | { readonly kind: 'number'; readonly value: number }
  | {
      readonly kind: 'place';
      /** s: the best instant. */
      readonly best: number;
      /** V over s: margin left at an instant; negative where the worst case reads wrong. */
      readonly left: Curve;
    }
  | { readonly kind: 'draw'; readonly curve: Curve }
  /** V: what is enough, and the most that there is, with where the slider or the bits then stand. */
  | { readonly kind: 'set'; readonly need: number; readonly most: number; readonly index: number }
  | { readonly kind: 'bits'; readonly need: number; readonly most: number; readonly bits: readonly number[] }
  /** V: what is enough; how much more there is nobody knows. */
  | { readonly kind: 'board'; readonly need: number };

/** Values over time, s. */
export interface Curve {
  readonly time: Float64Array;
  readonly values: Float64Array;
}

export interface StepTrace extends Curve {
  /** Key of its name in the step's words, or the figure that tells it from the others. */
  readonly label: string | Figure;
  readonly style: 'one' | 'zero' | 'direct' | 'half' | 'selected' | 'inhibit';
}

/** Ampere-turns (A) and stored flux (Wb) along the cycle. */
export interface StepLoop {
  readonly core: CoreParameters;
  readonly drive: Float64Array;
  readonly state: Float64Array;
}
