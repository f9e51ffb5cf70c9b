import { checkDesign } from '../../../engine/check/check-design.ts';
import { rawAt, type RawDesign } from '../../model/pointer.ts';
import { LessonError, Reader } from './reader.ts';

/** A design to be a lesson's board; throws a LessonError of one sentence. */
export function readBoard(value: unknown): RawDesign {
  const from = new Reader(value, '/board');
  const board = from.object();
  checkBoard(from, board);
  return board;
}

/** A place in the board that an input can stand at. */
export function readPointer(from: Reader, board: RawDesign): string {
  const pointer = from.text(2, 100);
  const found = pointer.startsWith('/') ? rawAt(board, pointer) : {};
  if (typeof found === 'object' && found !== null)
    throw from.refuse('must be the place of one input of the board, such as /drive/x/readAmplitude');
  return pointer;
}

/** Throws a LessonError where the engine refuses the design. */
export function checkBoard(from: Reader, board: RawDesign): void {
  try {
    checkDesign(board);
  } catch (error) {
    throw new LessonError(`${from.name} does not hold: ${(error as Error).message}`);
  }
}
