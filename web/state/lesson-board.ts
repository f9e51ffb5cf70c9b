import { differences, type RawDesign } from '../model/pointer.ts';
import type { Place } from './place.ts';
import type { History } from './undo.ts';

/** Parts of the stage that a lesson can cover. */
export const COVERS = ['signal', 'causes', 'currents', 'margin', 'ring', 'mat'] as const;
export type Cover = (typeof COVERS)[number];

/** What a lesson can leave free to be moved, and the inputs that each of them writes. */
const WRITES = {
  strobe: ['/strobe/time'],
  threshold: ['/detector/threshold'],
  bits: ['/stored', '/exceptions'],
  drivers: ['/drive', '/cycle', '/temperature'],
  mat: ['/mat', '/winding'],
  wire: ['/terminations', '/wire'],
  amplifier: ['/amplifier'],
  detector: ['/detector'],
  latch: ['/strobe'],
} as const;
export type Movable = keyof typeof WRITES;
export const MOVABLES = Object.keys(WRITES) as readonly Movable[];

/** What a step says of its board when it is opened on the stage. */
export interface BoardAbout {
  readonly title: string;
  readonly question: string;
  /** Left out: nothing is covered. */
  readonly covered?: readonly Cover[];
  /** Left out: everything may be moved. */
  readonly movable?: readonly Movable[];
  /** The step of the course that is played beside the stage. */
  readonly step?: string;
  /** Where the way back leads; left out: where the reader is. */
  readonly back?: Place;
}

/** A lesson's board on the stage. */
export interface LessonBoard extends BoardAbout {
  readonly back: Place;
  /** The reader's own design with its undo, which comes back when the lesson is gone back to. */
  readonly before: History<RawDesign>;
  /** The board as it was opened. */
  readonly board: RawDesign;
  /** Steps of undo that lie before the board. */
  readonly depth: number;
}

/** The part of Plan at which a step of the course is played beside the stage; its id is the step's. */
export const LESSON_PART = 'lesson';

/** Is every input in which two boards differ free to be moved? */
export function mayChange({ movable }: BoardAbout, before: RawDesign, after: RawDesign): boolean {
  if (movable === undefined) return true;
  const free = movable.flatMap((name) => WRITES[name]);
  return differences(before, after).every((pointer) =>
    free.some(
      (start) => pointer === start || pointer.startsWith(`${start}/`) || start.startsWith(`${pointer}/`),
    ),
  );
}
