import type { Design } from '../../engine/design/design.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import type { RunsAtHand } from '../../engine/strobe/case-runs.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { DesignWarning, Run } from '../model/run.ts';

/** What is on the screen, s: it is read first, and the cycle to its end afterwards. */
export interface Shown {
  /** Where the lanes end; undefined: they show the read. */
  readonly spanEnd: number | undefined;
  /** Instants that are marked. */
  readonly marked: readonly number[];
}

export interface RunAsk {
  readonly raw: RawDesign;
  readonly shown: Shown;
}

/** A design whose traces are known, judged anew. */
export interface JudgeAsk extends RunAsk {
  /** The cases run for another strobe or threshold; undefined: all are to be run. */
  readonly atHand: RunsAtHand | undefined;
}

/** One worker reads the ONE and goes on to the strobe analysis; another reads the ZERO meanwhile, then both to the end. */
export interface RunTasks {
  readonly one: { readonly ask: RunAsk; readonly piece: RunPiece | StagePiece; readonly answer: undefined };
  readonly zero: { readonly ask: RunAsk; readonly piece: RunPiece | StagePiece; readonly answer: undefined };
  readonly judge: {
    readonly ask: JudgeAsk;
    readonly piece: RunPiece | StagePiece;
    readonly answer: undefined;
  };
}

export interface StagePiece {
  readonly kind: 'stage';
  readonly stage: string;
}

/** What is known of a run so far; the client puts the pieces together. */
export type RunPiece =
  /** The design holds. */
  | { readonly kind: 'design'; readonly design: Design }
  | { readonly kind: 'one'; readonly one: Simulation; readonly warnings: readonly DesignWarning[] }
  | { readonly kind: 'zero'; readonly zero: Simulation }
  /** Both to the end of the cycle, where the first ones ended before it. */
  | { readonly kind: 'whole'; readonly one: Simulation; readonly zero: Simulation }
  /** `one`: the same again with its error, where that is now known. */
  | ({ readonly kind: 'judged'; readonly one?: Simulation } & Pick<Run, 'ensemble' | 'reason' | 'grade'>);
