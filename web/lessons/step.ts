import type { CoreParameters } from '../../engine/design/design.ts';
import type { RawDesign } from '../model/pointer.ts';

/** One number of a step's answer, computed live. */
interface Answer {
  readonly name: string;
  readonly value: string;
}

/** What a computed step shows. */
export interface StepResult {
  /** Sense voltage or another trace over time, drawn with the page's own chart. */
  readonly traces: readonly StepTrace[];
  readonly quantity: { readonly symbol: string; readonly unit: string };
  readonly answers: readonly Answer[];
  /** The way of the core over its own loop, where that is what the step is about. */
  readonly loop?: StepLoop;
  /** Where the latch looks, s, at which threshold, V, and the window around it. */
  readonly place?: {
    readonly strobe: number;
    readonly threshold: number;
    readonly strobeZones: readonly { readonly from: number; readonly to: number }[];
  };
  /** Which of the step's choices the numbers bear out. */
  readonly right: number;
  /** s shown. */
  readonly span: readonly [number, number];
}

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

/** One step of the guided sequence: read, predict, reveal. */
export interface Step {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  readonly question: string;
  readonly choices: readonly string[];
  /** The small design that the step runs on; shown to the reader, and opened in the planning view on request. */
  readonly design: RawDesign;
  /** Runs the engine. */
  readonly compute: () => StepResult;
  /** What the numbers mean, after the reveal. */
  readonly meaning: string;
}
