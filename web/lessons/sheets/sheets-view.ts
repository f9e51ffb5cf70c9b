import { signal } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import { choice } from '../../ui/choice.ts';
import { h, put } from '../../ui/dom.ts';
import { iconView } from '../../ui/icon-view.ts';
import { mount } from '../../ui/mount.ts';
import { courseExhibit, courseResult } from '../course/course-client.ts';
import { toldCourse } from '../made/course-steps.ts';
import type { Evaluator } from '../made/evaluator.ts';
import { isOwn, MOST_STUDENTS, type MadeLesson } from '../made/lesson.ts';
import { isVaried, valueIndex, withVariant } from '../made/variants.ts';
import type { Draft } from '../maker/draft.ts';
import { selectField, textField } from '../maker/fields.ts';
import { titleOf } from '../maker/steps-list.ts';
import type { MadeWords } from '../words/made-words.ts';
import { keyNode, type KeyVariant } from './key-sheet.ts';
import { MOST_SHEETS, readNumbers } from './numbers.ts';
import { questionNode, type SheetStep } from './question-sheet.ts';
import './sheets.css';

export interface SheetsOptions {
  readonly w: MadeWords;
  readonly draft: Draft;
  readonly evaluator: Evaluator;
  readonly onGo: (part: string) => void;
}

const PAPERS = ['a4', 'letter'] as const;
const PARTS = ['both', 'questions', 'key'] as const;

interface Wanted {
  /** '' for all. */
  readonly step: string;
  readonly numbers: string;
  readonly part: (typeof PARTS)[number];
}

/** Questions and key as they go on paper, seen here first. */
export function createSheetsView({ w, draft, evaluator, onGo }: SheetsOptions): HTMLElement {
  const wanted = signal<Wanted>({ step: '', numbers: '1', part: 'both' });
  const paper = signal<(typeof PAPERS)[number]>('a4');
  const busy = signal(false);
  const refusal = signal<string | undefined>(undefined);
  const controls = h('div', { class: 'sheets-controls' });
  const pages = h('div', { class: 'paper' });
  const node = h('article', { class: 'reading sheets-view' }, controls, pages);
  let asked = 0;
  let built = '';

  async function build(lesson: MadeLesson, { step, numbers, part }: Wanted): Promise<void> {
    const mine = ++asked;
    const read = isVaried(lesson) ? readNumbers(numbers, MOST_STUDENTS) : [0];
    refusal.value = read ? undefined : w.sheets.badNumbers(MOST_SHEETS, numbers);
    if (!read) return;
    busy.value = true;
    const places = [...lesson.steps.keys()].filter((place) => step === '' || step === String(place));
    const nodes = await pageNodes({ w, lesson, evaluator, places, numbers: read, part });
    if (mine !== asked) return;
    put(pages, ...nodes);
    busy.value = false;
  }
  const set = (change: Partial<Wanted>): void => {
    wanted.value = { ...wanted.value, ...change };
  };
  mount(controls, () => {
    const lesson = draft.lesson.value;
    const fault = draft.fault.value;
    const { step, numbers, part } = wanted.value;
    pages.dataset['paper'] = paper.value;
    const key = JSON.stringify([lesson, wanted.value]);
    if (fault === undefined && key !== built) {
      built = key;
      queueMicrotask(() => void build(lesson, wanted.value));
    }
    return html`
      <h1>${w.sheets.title}</h1>
      <p class="note">${w.sheets.about}</p>
      ${fault === undefined ? nothing : html`<p class="status-warning">${iconView('warning')}${w.maker.mend(fault)}</p>`}
      ${selectField({
        id: 'sheet-step',
        label: w.sheets.which,
        value: step,
        options: [
          ['', w.sheets.all] as const,
          ...lesson.steps.map((each, k) => [String(k), w.sheets.one(k + 1, titleOf(w, each))] as const),
        ],
        onSet: (value) => set({ step: value }),
      })}
      ${
        isVaried(lesson)
          ? textField({
              id: 'sheet-numbers',
              label: `${w.sheets.numbers} (${w.sheets.numbersHelp(MOST_SHEETS)})`,
              value: numbers,
              size: 8,
              onSet: (value) => set({ numbers: value }),
            })
          : nothing
      }
      <p class="field-error" role="alert" ?hidden=${refusal.value === undefined}>
        ${refusal.value === undefined ? nothing : [iconView('error'), refusal.value]}
      </p>
      <div class="button-row">
        ${choice({
          title: w.sheets.parts,
          options: PARTS.map((each) => [each, w.sheets.part[each]] as const),
          chosen: part,
          onChoose: (value) => set({ part: value }),
        })}
        ${choice({
          title: w.sheets.paper,
          options: PAPERS.map((each) => [each, w.sheets.papers[each]] as const),
          chosen: paper.value,
          onChoose: (value) => {
            paper.value = value;
          },
        })}
        <button
          type="button"
          ?disabled=${busy.value || fault !== undefined || refusal.value !== undefined}
          @click=${() => window.print()}
        >
          ${w.sheets.print}
        </button>
        <button type="button" @click=${() => onGo('make')}>${w.sheets.back}</button>
      </div>
      <p role="status">${busy.value ? w.play.busy : nothing}</p>
    `;
  });
  return node;
}

interface Printed {
  readonly w: MadeWords;
  readonly lesson: MadeLesson;
  readonly evaluator: Evaluator;
  readonly places: readonly number[];
  readonly numbers: readonly number[];
  readonly part: Wanted['part'];
}

async function pageNodes(printed: Printed): Promise<HTMLElement[]> {
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
