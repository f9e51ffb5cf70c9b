import { COVERS, MOVABLES } from '../../state/lesson-board.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import { nowNamed, OLD_NAMES } from '../course/old-names.ts';
import { courseSteps } from './course-steps.ts';
import { MOST, type MadeLesson, type MadeStep, type OwnStep, type Varied } from './lesson.ts';
import { readAsk } from './read-ask.ts';
import { checkBoard, readPointer } from './read-board.ts';
import { LessonError, Reader } from './reader.ts';

/** What the file says it is. */
export const FORMAT = 'strobewright lesson';
export const VERSION = 1;

export const lessonFile = (lesson: MadeLesson): object => ({ format: FORMAT, version: VERSION, ...lesson });

export const courseIds = (): readonly string[] => courseSteps().map(({ id }) => id);

/** A lesson's file or the content of its link; throws a LessonError of one sentence. Boards are checked by the engine. */
export function readLesson(value: unknown): MadeLesson {
  const top = new Reader(value, '');
  if (top.field('format').value !== FORMAT)
    throw new LessonError(
      'This is not a lesson: a file of the lesson maker begins with its format and version.',
    );
  const version = top.field('version').value;
  if (version !== VERSION)
    throw new LessonError(
      `A lesson of format version ${VERSION} can be opened here, but this one is of version ${JSON.stringify(version)}: open it with the Strobewright that saved it.`,
    );
  top.only(['format', 'version', 'title', 'seed', 'steps']);
  return {
    title: top.field('title').text(1, 200),
    seed: top.field('seed').whole(0, MOST.seed),
    steps: top.field('steps').list(1, MOST.steps, readStep),
  };
}

function readStep(from: Reader): MadeStep {
  const course = from.field('course');
  if (course.value !== undefined) {
    from.only(['course']);
    return { course: nowNamed(course.oneOf([...courseIds(), ...OLD_NAMES])) };
  }
  return readOwn(from);
}

function readOwn(from: Reader): OwnStep {
  from.only(['title', 'text', 'question', 'meaning', 'board', 'ask', 'covered', 'movable', 'varied']);
  const board = from.field('board').object();
  const varied = from.field('varied');
  const step: OwnStep = {
    title: from.field('title').text(1, 200),
    text: from.field('text').text(0, MOST.text),
    question: from.field('question').text(1, MOST.text),
    meaning: from.field('meaning').text(0, MOST.text),
    board,
    ask: readAsk(from.field('ask'), board),
    covered: from.field('covered').list(0, COVERS.length, (each) => each.oneOf(COVERS)),
    movable: from.field('movable').list(0, MOVABLES.length, (each) => each.oneOf(MOVABLES)),
    ...(varied.value === undefined ? {} : { varied: readVaried(varied, board) }),
  };
  checkBoard(from.field('board'), board);
  return step;
}

function readVaried(from: Reader, board: RawDesign): Varied {
  from.only(['pointers', 'values']);
  const pointers = from.field('pointers').list(1, 8, (each) => readPointer(each, board));
  const values = from.field('values').list(2, MOST.values, (each) => each.text(1, 40));
  values.forEach((value, k) =>
    checkBoard(
      from.field('values').item(k),
      pointers.reduce((raw, pointer) => withValueAt(raw, pointer, value), board),
    ),
  );
  return { pointers, values };
}
