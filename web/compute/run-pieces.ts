import type { RunPiece } from './run-messages.ts';
import type { Run } from '../model/run.ts';

/** Puts a run together from what its workers tell, in whatever order it comes. */
export interface RunPieces {
  /** The run as it is known now; undefined while its ONE or its ZERO is not. */
  add(piece: RunPiece): Run | undefined;
}

/** @param known Pieces that are at hand already. */
export function collectRun(known?: Run): RunPieces {
  let checked: Pick<Run, 'design'> | undefined = known;
  let ofOne: Pick<Run, 'one' | 'warnings'> | undefined = known;
  let ofZero: Pick<Run, 'zero'> | undefined = known;
  let judged:
    (Pick<Run, 'ensemble' | 'reason' | 'grade'> & { readonly one?: Run['one'] | undefined }) | undefined =
    known;
  let whole: Extract<RunPiece, { kind: 'whole' }> | undefined;
  return {
    add(piece) {
      if (piece.kind === 'design') checked = piece;
      else if (piece.kind === 'one') ofOne = piece;
      else if (piece.kind === 'zero') ofZero = piece;
      else if (piece.kind === 'whole') whole = piece;
      // What is judged anew keeps the exact ONE that came with the judgement before.
      else judged = { ...piece, one: piece.one ?? judged?.one };
      if (!checked || !ofOne || !ofZero) return undefined;
      const zero = whole?.zero ?? ofZero.zero;
      // The two are shown on one axis: of the ONEs at hand the most exact one that goes as far as the ZERO.
      const ones = [judged?.one, whole?.one, ofOne.one];
      const one = ones.find((item) => item?.time.length === zero.time.length) ?? ofOne.one;
      return {
        design: checked.design,
        warnings: ofOne.warnings,
        one,
        zero,
        ensemble: judged?.ensemble,
        reason: judged?.reason,
        grade: judged?.grade ?? 'traces',
      };
    },
  };
}
