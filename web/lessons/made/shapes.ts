import { firstNamed } from '../course/old-names.ts';
import type { AnswerShape } from './answer-code.ts';
import { hashOf } from './hash.ts';
import { courseShape, courseStep } from './course-steps.ts';
import { isOwn, type MadeLesson, type MadeStep, type OwnAsk } from './lesson.ts';
import { lessonFile } from './read-lesson.ts';

function ownShape(ask: OwnAsk): AnswerShape {
  switch (ask.kind) {
    case 'draw':
      return { kind: 'levels', count: ask.at.length };
    case 'place':
    case 'set':
      return { kind: 'index' };
    default:
      return { kind: ask.kind };
  }
}

const shapeOf = (step: MadeStep): AnswerShape =>
  isOwn(step) ? ownShape(step.ask) : courseShape(courseStep(step.course).ask);

/** What the answers of a lesson take in its codes, step by step. */
export const shapesOf = ({ steps }: MadeLesson): readonly AnswerShape[] => steps.map(shapeOf);

/** Tells codes of this lesson from those of any other, an earlier state of it among them. */
export const lessonNumber = (lesson: MadeLesson): number => {
  const steps = lesson.steps.map((step) => (isOwn(step) ? step : { course: firstNamed(step.course) }));
  return hashOf(JSON.stringify(lessonFile({ ...lesson, steps })));
};
