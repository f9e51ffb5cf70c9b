import { courseResult, courseWeighed } from '../course/course-client.ts';
import type { AnswerSheet, Coded } from '../made/answer-code.ts';
import { courseRight, givenOf, toldCourse } from '../made/course-steps.ts';
import type { Evaluated } from '../made/evaluated.ts';
import type { Evaluator } from '../made/evaluator.ts';
import { isOwn, type MadeLesson, type MadeStep, type OwnStep } from '../made/lesson.ts';
import { answerText } from '../made/say.ts';
import { scoreOwn } from '../made/score-own.ts';
import { questionToAll, valueIndex, withVariant } from '../made/variants.ts';
import { bitsText, isMoved, setValue } from '../moved.ts';
import type { Given } from '../score.ts';
import type { StepResult } from '../step.ts';
import type { MadeWords } from '../words/made-words.ts';
import { figureText, numberText, plainNumber, wordFor } from '../words/say.ts';
import type { ToldStep } from '../words/shape.ts';

/** What one student answered to one step. */
export interface Answered {
  /** Place among the codes that count. */
  readonly student: number;
  readonly number: number;
  readonly coded: Coded;
  readonly right: boolean;
  readonly text: string;
  /** Value of the varied input that the student had; '' where nothing varies. */
  readonly value: string;
  /** What the engine says of that value, of a question of one's own. */
  readonly evaluated?: Evaluated;
}

export interface StepTally {
  readonly step: MadeStep;
  readonly title: string;
  readonly question: string;
  readonly answers: readonly Answered[];
  /** What the engine says of a step of the course. */
  readonly result?: StepResult;
}

/** Every step with the answers to it, each held against the values that its student had. */
export async function tallySteps(
  w: MadeWords,
  lesson: MadeLesson,
  sheets: readonly AnswerSheet[],
  evaluator: Evaluator,
): Promise<readonly StepTally[]> {
  const tallies: StepTally[] = [];
  for (const place of lesson.steps.keys()) tallies.push(await tallyStep(w, lesson, place, sheets, evaluator));
  return tallies;
}

async function tallyStep(
  w: MadeWords,
  lesson: MadeLesson,
  place: number,
  sheets: readonly AnswerSheet[],
  evaluator: Evaluator,
): Promise<StepTally> {
  const step = lesson.steps[place]!;
  const result = isOwn(step) ? undefined : await courseResult(step.course);
  const answers: Answered[] = [];
  for (const [student, sheet] of sheets.entries()) {
    const coded = sheet.answers[place];
    if (!coded) continue;
    const told = isOwn(step)
      ? await ownAnswer(w, step, valueIndex(lesson, place, sheet.student), coded, evaluator)
      : await courseAnswer(toldCourse(w.course, step.course), result!, coded);
    if (told) answers.push({ student: student + 1, number: sheet.student, coded, ...told });
  }
  const { title, question } = isOwn(step)
    ? { title: step.title, question: questionToAll(step) }
    : toldCourse(w.course, step.course).told;
  return { step, title, question, answers, ...(result && { result }) };
}

type Told = Pick<Answered, 'right' | 'text' | 'value' | 'evaluated'>;

/** Undefined: the answer is one that this question has not, or the engine says nothing of it. */
async function ownAnswer(
  w: MadeWords,
  step: OwnStep,
  index: number,
  coded: Coded,
  evaluator: Evaluator,
): Promise<Told | undefined> {
  const mine = withVariant(step, index);
  const outcome = await evaluator.evaluate(mine);
  if (outcome.kind === 'failed') return undefined;
  const { truth } = outcome.evaluated;
  if (coded.kind === 'choose' && step.ask.kind === 'choose' && coded.chosen >= step.ask.choices.length)
    return undefined;
  if (coded.kind === 'index' && truth.kind === 'scan' && coded.index >= truth.at.length) return undefined;
  return {
    right: scoreOwn(step.ask, truth, coded).right,
    text: answerText(w, step.ask, truth, coded),
    value: step.varied?.values[index] ?? '',
    evaluated: outcome.evaluated,
  };
}

async function courseAnswer(told: ToldStep, result: StepResult, coded: Coded): Promise<Told | undefined> {
  const { step } = told;
  const { ask } = step;
  if (coded.kind === 'choose' && ask.kind === 'choose' && coded.chosen >= ask.choices.length)
    return undefined;
  const given = givenOf(ask, coded);
  const weighed = isMoved(given) ? await courseWeighed(step.id, given) : undefined;
  return { right: courseRight(step, result, coded, weighed), text: courseText(told, given), value: '' };
}

function courseText({ step: { ask }, told, words }: ToldStep, given: Given): string {
  switch (given.kind) {
    case 'choose':
      return ask.kind === 'choose' ? wordFor(told.choices, ask.choices[given.chosen]!).text : '';
    case 'number':
      return numberText(words, given.value, ask.kind === 'number' ? ask.unit : '');
    case 'place':
      return figureText(words, { value: given.time, unit: 's', digits: 3 });
    case 'set':
      return ask.kind === 'set'
        ? figureText(words, { value: setValue(ask, given.index), unit: ask.unit, digits: 3 })
        : '';
    case 'bits':
      return ask.kind === 'bits' ? bitsText(ask, given.bits) : '';
    case 'board':
      return '';
    case 'draw':
      return given.values.map((volts) => plainNumber(words, Number((volts * 1e3).toPrecision(3)))).join(' ');
  }
}
