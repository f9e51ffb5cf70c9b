import { LESSONS } from '../course/lessons.ts';
import { nowNamed } from '../course/old-names.ts';
import type { Lesson, Step } from '../step.ts';
import { wordFor } from '../words/say.ts';
import type { Words } from '../words/shape.ts';
import type { LessonWords, StepWords } from '../words/step-words.ts';

/** A step in its place in the course, with what is said of it. */
export interface Found {
  readonly lesson: Lesson;
  readonly step: Step;
  readonly told: StepWords;
  /** "2.3" */
  readonly number: string;
  /** Ids of its neighbours, over the ends of lessons too. */
  readonly previous: string | undefined;
  readonly next: string | undefined;
}

const ORDER = LESSONS.flatMap(({ steps }) => steps.map(({ id }) => id));

/** By its name, or by the one that it had once; undefined: the course has no such step. */
export function findStep(words: Words, name: string): Found | undefined {
  const id = nowNamed(name);
  const lesson = LESSONS.find(({ steps }) => steps.some((step) => step.id === id));
  if (!lesson) return undefined;
  const place = lesson.steps.findIndex((step) => step.id === id);
  const at = ORDER.indexOf(id);
  return {
    lesson,
    step: lesson.steps[place]!,
    told: wordFor(wordFor<LessonWords>(words.lessons, lesson.id).steps, id),
    number: `${LESSONS.indexOf(lesson) + 1}.${place + 1}`,
    previous: ORDER[at - 1],
    next: ORDER[at + 1],
  };
}
