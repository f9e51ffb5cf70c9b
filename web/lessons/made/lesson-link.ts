import { pack, unpack } from '../../state/packing.ts';
import type { MadeLesson } from './lesson.ts';
import { lessonFile, readLesson } from './read-lesson.ts';

/** What a lesson's part of an address begins with. */
export const LINK_PREFIX = 'l1-';
/** Longer addresses are cut off on their way by some that pass them on. */
export const LONGEST_LINK = 8000;

export const lessonPart = async (lesson: MadeLesson): Promise<string> =>
  `${LINK_PREFIX}${await pack(lessonFile(lesson))}`;

/** Undefined where the link is cut off or mistyped. Throws a LessonError where what it holds is no lesson. */
export async function readLessonPart(part: string): Promise<MadeLesson | undefined> {
  const value = await unpack(part.slice(LINK_PREFIX.length));
  return value === undefined ? undefined : readLesson(value);
}
