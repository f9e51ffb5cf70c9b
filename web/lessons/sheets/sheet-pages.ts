import { h } from '../../ui/dom.ts';
import { courseExhibit, courseResult } from '../course/course-client.ts';
import { toldCourse } from '../made/course-steps.ts';
import type { Evaluator } from '../made/evaluator.ts';
import { isOwn, type MadeLesson } from '../made/lesson.ts';
import { valueIndex, withVariant } from '../made/variants.ts';
import type { MadeWords } from '../words/made-words.ts';
import { keyNode, type KeyVariant } from './key-sheet.ts';
import { questionNode, type SheetStep } from './question-sheet.ts';

export const PARTS = ['both', 'questions', 'key'] as const;

/** Which steps of a lesson go on paper, for which numbers of the class. */
interface Printed {
  readonly w: MadeWords;
  readonly lesson: MadeLesson;
  readonly evaluator: Evaluator;
  readonly places: readonly number[];
  readonly numbers: readonly number[];
  readonly part: (typeof PARTS)[number];
}

/** The pages: questions of each number, then the key. */
export async function pageNodes(printed: Printed): Promise<HTMLElement[]> {
  const { w, lesson, places, numbers, part } = printed;
  const pages: HTMLElement[] = [];
  if (part !== 'key')
    for (const number of numbers) {
      const steps: HTMLElement[] = [];
      for (const place of places)
        steps.push(questionNode(w, await sheetStep(printed, place, number, `q${number}-${place}`)));
      const head = number === 0 ? undefined : h('p', {}, w.sheets.student(number));
      pages.push(h('section', { class: 'paper-page' }, h('h2', {}, lesson.title), head, ...steps));
    }
  if (part === 'questions') return pages;
  const keys: HTMLElement[] = [];
  for (const place of places) keys.push(keyNode(w, await keyVariants(printed, place)));
  pages.push(h('section', { class: 'paper-page' }, h('h2', {}, w.sheets.key(lesson.title)), ...keys));
  return pages;
}

async function sheetStep(
  { w, lesson, evaluator }: Printed,
  place: number,
  student: number,
  id: string,
): Promise<SheetStep> {
  const step = lesson.steps[place]!;
  if (!isOwn(step)) {
    const told = toldCourse(w.course, step.course);
    const [result, exhibit] = await Promise.all([
      courseResult(step.course),
      told.step.exhibit ? courseExhibit(step.course) : undefined,
    ]);
    return { step, number: place + 1, id, evaluated: undefined, course: { told, result, exhibit } };
  }
  const mine = withVariant(step, valueIndex(lesson, place, student));
  const outcome = await evaluator.evaluate(mine);
  const evaluated = outcome.kind === 'evaluated' ? outcome.evaluated : undefined;
  return { step: mine, number: place + 1, id, evaluated };
}

/** One for each value that stands on one of the sheets. */
async function keyVariants(printed: Printed, place: number): Promise<readonly KeyVariant[]> {
  const { lesson, numbers } = printed;
  const step = lesson.steps[place]!;
  const byValue = new Map<number, number[]>();
  for (const number of numbers) {
    const index = valueIndex(lesson, place, number);
    byValue.set(index, [...(byValue.get(index) ?? []), number]);
  }
  const variants: KeyVariant[] = [];
  for (const [index, having] of byValue) {
    const sheet = await sheetStep(printed, place, having[0]!, `k${index}-${place}`);
    variants.push({ ...sheet, value: (isOwn(step) && step.varied?.values[index]) || '', numbers: having });
  }
  return variants;
}
