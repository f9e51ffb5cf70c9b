import { LESSONS } from '../course/lessons.ts';
import { lineCores, type Weighed } from '../moved.ts';
import { score, type Given } from '../score.ts';
import type { Ask, Step, StepResult } from '../step.ts';
import type { MadeWords } from '../words/made-words.ts';
import { wordFor } from '../words/say.ts';
import type { ToldStep, Words } from '../words/shape.ts';
import type { LessonWords } from '../words/step-words.ts';
import { threeDigits, type AnswerShape, type Coded } from './answer-code.ts';
import { levelOf, levelVolts } from './levels.ts';

const STEPS: ReadonlyMap<string, Step> = new Map(
  LESSONS.flatMap(({ steps }) => steps.map((step) => [step.id, step] as const)),
);

/** A step of the course by its id, which a lesson that was read is sure to have. */
export function courseStep(id: string): Step {
  const step = STEPS.get(id);
  if (!step) throw new RangeError(`The course has no step named ${id}.`);
  return step;
}

const lessonOf = (id: string): string =>
  LESSONS.find(({ steps }) => steps.some((step) => step.id === id))!.id;

/** The step with what is said of it. */
export function toldCourse(words: Words, id: string): ToldStep {
  const lesson = wordFor<LessonWords>(words.lessons, lessonOf(id));
  return { step: courseStep(id), told: wordFor(lesson.steps, id), words };
}

export const courseTitle = ({ course }: MadeWords, id: string): string => toldCourse(course, id).told.title;

/** Those that a lesson of one's own can take: a whole board is no answer that a code holds. */
export const courseSteps = (): readonly Step[] =>
  [...STEPS.values()].filter(({ ask }) => ask.kind !== 'board');

export function courseShape(ask: Ask): AnswerShape {
  if (ask.kind === 'draw') return { kind: 'levels', count: ask.at.length };
  if (ask.kind === 'board') throw new TypeError('A whole board is no answer that a code holds.');
  return { kind: ask.kind === 'choose' || ask.kind === 'number' ? ask.kind : 'index' };
}

/** s between places of the strobe in the course. */
const PLACE_STEP = 1e-9;

/** An answer as a code carries it. */
export function codedOf(ask: Ask, given: Given): Coded {
  switch (given.kind) {
    case 'choose':
      return given;
    case 'number':
      return { kind: 'number', value: threeDigits(given.value) };
    case 'place':
      return { kind: 'index', index: Math.max(0, Math.round(given.time / PLACE_STEP)) };
    case 'set':
      return { kind: 'index', index: given.index };
    case 'bits':
      return { kind: 'index', index: Number.parseInt(given.bits.join(''), 2) };
    case 'board':
      throw new TypeError('A whole board is no answer that a code holds.');
    case 'draw': {
      const top = ask.kind === 'draw' ? ask.most : 0;
      return { kind: 'levels', levels: given.values.map((value) => levelOf(top, value)) };
    }
  }
}

/** What a code's answer stands for. */
export function givenOf(ask: Ask, coded: Coded): Given {
  switch (coded.kind) {
    case 'choose':
    case 'number':
      return coded;
    case 'index': {
      if (ask.kind === 'set') return { kind: 'set', index: Math.min(coded.index, ask.places - 1) };
      if (ask.kind === 'bits') return { kind: 'bits', bits: bitsIn(coded.index, lineCores(ask).length) };
      return { kind: 'place', time: coded.index * PLACE_STEP };
    }
    case 'levels': {
      const top = ask.kind === 'draw' ? ask.most : 0;
      return { kind: 'draw', values: coded.levels.map((level) => levelVolts(top, level)) };
    }
  }
}

/** Of a whole number, the first the highest. */
const bitsIn = (index: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, k) => (index >> (count - 1 - k)) & 1);

/** `weighed`: what came of a board that was set. */
export const courseRight = ({ ask }: Step, { truth }: StepResult, coded: Coded, weighed?: Weighed): boolean =>
  score(ask, truth, givenOf(ask, coded), weighed).right;
