import { signal } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import { choice } from '../../ui/choice.ts';
import { h, put } from '../../ui/dom.ts';
import { iconView } from '../../ui/icon-view.ts';
import { mount } from '../../ui/mount.ts';
import type { Evaluator } from '../made/evaluator.ts';
import { MOST_STUDENTS, type MadeLesson } from '../made/lesson.ts';
import { isVaried } from '../made/variants.ts';
import type { Draft } from '../maker/draft.ts';
import { selectField, textField } from '../maker/fields.ts';
import { titleOf } from '../maker/steps-list.ts';
import type { MadeWords } from '../words/made-words.ts';
import { MOST_SHEETS, readNumbers } from './numbers.ts';
import { pageNodes, PARTS } from './sheet-pages.ts';
import './sheets.css';

export interface SheetsOptions {
  readonly w: MadeWords;
  readonly draft: Draft;
  readonly evaluator: Evaluator;
  readonly onGo: (part: string) => void;
}

const PAPERS = ['a4', 'letter'] as const;

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
