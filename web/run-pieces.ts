import type { RunPiece } from './engine-messages.ts';
import type { Run } from './run.ts';

/** Puts a run together from what its workers tell, in whatever order it comes. */
export interface RunPieces {
  /** The run as it is known now; undefined while its ONE or its ZERO is not. */
  add(piece: RunPiece): Run | undefined;
}

export function collectRun(): RunPieces {
  let ofOne: Extract<RunPiece, { kind: 'one' }> | undefined;
  let ofZero: Extract<RunPiece, { kind: 'zero' }> | undefined;
  let judged: Extract<RunPiece, { kind: 'judged' }> | undefined;
  return {
    add(piece) {
      if (piece.kind === 'one') ofOne = piece;
      else if (piece.kind === 'zero') ofZero = piece;
      else judged = piece;
      if (!ofOne || !ofZero) return undefined;
      return {
        design: ofOne.design,
        warnings: ofOne.warnings,
        one: judged?.one ?? ofOne.one,
        zero: ofZero.zero,
        ensemble: judged?.ensemble,
        reason: judged?.reason,
        grade: judged?.grade ?? 'traces',
      };
    },
  };
}
