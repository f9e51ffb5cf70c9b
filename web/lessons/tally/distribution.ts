import { courseStep, givenOf, toldCourse } from '../made/course-steps.ts';
import { isOwn, MEASURES, SHOWN, type MadeStep, type OwnAsk } from '../made/lesson.ts';
import { scanMeasure } from '../made/say.ts';
import { setValue } from '../moved.ts';
import type { Step, StepResult } from '../step.ts';
import type { MadeWords } from '../words/made-words.ts';
import { wordFor } from '../words/say.ts';
import type { Answered, StepTally } from './step-tally.ts';

/** Answers as points of one axis, SI. */
export interface Points {
  readonly unit: 's' | 'V' | 'A' | '';
  readonly points: readonly { readonly at: number; readonly right: boolean }[];
  /** What was asked for, or what is so; undefined where it differs from student to student. */
  readonly target: number | undefined;
}

/** Where the answers to a question for a number or a place lie; undefined where they are chosen or drawn. */
export function pointsOf({ step, answers, result }: StepTally): Points | undefined {
  if (isOwn(step)) return ownPoints(answers, step.ask);
  return result && coursePoints(courseStep(step.course), result, answers);
}

function ownPoints(answers: readonly Answered[], ask: OwnAsk): Points | undefined {
  const common = (of: (answer: Answered) => number | undefined): number | undefined => {
    const all = new Set(answers.map(of));
    return all.size === 1 ? [...all][0] : undefined;
  };
  if (ask.kind === 'number')
    return {
      unit: MEASURES[ask.measure],
      points: answers.flatMap(({ coded, right }) =>
        coded.kind === 'number' ? [{ at: coded.value * SHOWN[MEASURES[ask.measure]].size, right }] : [],
      ),
      target: common(({ evaluated }) =>
        evaluated?.truth.kind === 'number' ? evaluated.truth.value : undefined,
      ),
    };
  if (ask.kind !== 'place' && ask.kind !== 'set') return undefined;
  return {
    unit: MEASURES[scanMeasure(ask)],
    points: answers.flatMap(({ coded, right, evaluated }) => {
      const got =
        coded.kind === 'index' && evaluated?.truth.kind === 'scan' ? evaluated.truth.got[coded.index]! : NaN;
      return Number.isNaN(got) ? [] : [{ at: got, right }];
    }),
    target: common(({ evaluated }) =>
      evaluated?.truth.kind === 'scan' ? evaluated.truth.target : undefined,
    ),
  };
}

/** A course's number is told in its own unit, a place by its instant. */
function coursePoints(step: Step, { truth }: StepResult, answers: readonly Answered[]): Points | undefined {
  if (truth.kind === 'set') return setPoints(step, truth.index, answers);
  if (truth.kind !== 'number' && truth.kind !== 'place') return undefined;
  return {
    unit: truth.kind === 'place' ? 's' : '',
    points: answers.flatMap(({ coded, right }) => {
      const given = givenOf(step.ask, coded);
      if (given.kind === 'number') return [{ at: given.value, right }];
      return given.kind === 'place' ? [{ at: given.time, right }] : [];
    }),
    target: truth.kind === 'place' ? truth.best : truth.value,
  };
}

/** A slider's places by what was set. */
function setPoints({ ask }: Step, best: number, answers: readonly Answered[]): Points | undefined {
  if (ask.kind !== 'set') return undefined;
  return {
    unit: ask.unit,
    points: answers.flatMap(({ coded, right }) => {
      const given = givenOf(ask, coded);
      return given.kind === 'set' ? [{ at: setValue(ask, given.index), right }] : [];
    }),
    target: setValue(ask, best),
  };
}

/** How often each choice was chosen. */
export function choiceCounts(
  w: MadeWords,
  { step, answers }: StepTally,
): readonly { text: string; count: number; right: boolean }[] | undefined {
  return choiceTexts(w, step)?.map((text, k) => {
    const mine = answers.filter(({ coded }) => coded.kind === 'choose' && coded.chosen === k);
    return { text, count: mine.length, right: mine.length > 0 && mine.every(({ right }) => right) };
  });
}

function choiceTexts(w: MadeWords, step: MadeStep): readonly string[] | undefined {
  if (isOwn(step)) return step.ask.kind === 'choose' ? step.ask.choices.map(({ text }) => text) : undefined;
  const { step: course, told } = toldCourse(w.course, step.course);
  return course.ask.kind === 'choose'
    ? course.ask.choices.map((key) => wordFor(told.choices, key).text)
    : undefined;
}
