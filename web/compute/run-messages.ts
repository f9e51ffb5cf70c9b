import type { Design, Simulation } from '../../engine/index.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { DesignWarning, Run } from '../model/run.ts';

/** One worker reads the ONE and goes on to the strobe analysis; another reads the ZERO meanwhile, then both to the end. */
export type Share = 'one' | 'zero';

export interface ToWorker {
  readonly id: number;
  readonly raw: RawDesign;
  readonly share: Share;
  /** s of the cycle that the reader looks at: read so far first, and to its end afterwards; undefined: at once. */
  readonly until: number | undefined;
}

/** What is known of a run so far; the client puts the pieces together. */
export type RunPiece =
  | {
      readonly kind: 'one';
      readonly one: Simulation;
      readonly design: Design;
      readonly warnings: readonly DesignWarning[];
    }
  | { readonly kind: 'zero'; readonly zero: Simulation }
  /** Both to the end of the cycle, where the first ones ended before it. */
  | { readonly kind: 'whole'; readonly one: Simulation; readonly zero: Simulation }
  /** `one`: the same again with its error, where that is now known. */
  | ({ readonly kind: 'judged'; readonly one?: Simulation } & Pick<Run, 'ensemble' | 'reason' | 'grade'>);

export type FromWorker = { readonly id: number } & (
  | { readonly kind: 'stage'; readonly stage: string }
  | { readonly kind: 'piece'; readonly piece: RunPiece }
  | { readonly kind: 'finished' }
  | { readonly kind: 'failed'; readonly message: string }
);
