import { randomStream } from '../../../engine/numerics/random.ts';
import { withValueAt } from '../../model/pointer.ts';
import { isOwn, type MadeLesson, type OwnStep } from './lesson.ts';

/**
 * Which value of a step's varied input the student of a number gets: from one number to the next it always moves on
 * by one, from a place that the lesson's seed gives, so that neighbours differ wherever there are two values.
 */
export function valueIndex(
  { seed, steps }: Pick<MadeLesson, 'seed' | 'steps'>,
  place: number,
  student: number,
): number {
  const step = steps[place]!;
  const count = isOwn(step) ? (step.varied?.values.length ?? 1) : 1;
  const start = Math.floor(randomStream(seed, place)() * count);
  return (start + student) % count;
}

const VALUE = '{value}';

/** The question with all of its values where it says `{value}`: as it was put to a whole class. */
export const questionToAll = ({ question, varied }: OwnStep): string =>
  varied === undefined ? question : question.replaceAll(VALUE, varied.values.join(' / '));

/** The step with one of its values in place: in its board, and where its texts say `{value}`. */
export function withVariant(step: OwnStep, index: number): OwnStep {
  const { varied } = step;
  if (varied === undefined) return step;
  const value = varied.values[index]!;
  const said = (text: string): string => text.replaceAll(VALUE, value);
  return {
    ...step,
    text: said(step.text),
    question: said(step.question),
    meaning: said(step.meaning),
    board: varied.pointers.reduce((board, pointer) => withValueAt(board, pointer, value), step.board),
  };
}

export const isVaried = ({ steps }: Pick<MadeLesson, 'steps'>): boolean =>
  steps.some((step) => isOwn(step) && step.varied !== undefined);
