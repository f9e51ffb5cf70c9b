import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import { saveFile } from '../../sharing/save.ts';
import { h } from '../../ui/dom.ts';
import { iconView } from '../../ui/icon-view.ts';
import { mount } from '../../ui/mount.ts';
import type { Evaluator } from '../made/evaluator.ts';
import { lessonNumber, shapesOf } from '../made/shapes.ts';
import { readCodes, type PastedCode } from '../made/tally.ts';
import type { MadeWords } from '../words/made-words.ts';
import type { Draft } from '../maker/draft.ts';
import { tallySteps, type StepTally } from './step-tally.ts';
import { answersView, type Room } from './tally-answers.ts';
import { tallyCsv } from './tally-csv.ts';
import './tally.css';

export interface TallyOptions {
  readonly w: MadeWords;
  readonly draft: Draft;
  readonly evaluator: Evaluator;
  readonly onGo: (part: string) => void;
}

interface Counted {
  readonly codes: readonly PastedCode[];
  readonly tallies: readonly StepTally[];
}

/** Students' codes in, what the class answered out; all of it in this browser. */
export function createTallyView({ w, draft, evaluator, onGo }: TallyOptions): HTMLElement {
  const pasted = signal('');
  const counted = signal<Counted | undefined>(undefined);
  const busy = signal(false);
  const node = h('article', { class: 'reading tally' });

  async function count(): Promise<void> {
    const lesson = draft.lesson.value;
    const codes = readCodes(lessonNumber(lesson), shapesOf(lesson), pasted.value);
    const sheets = codes.flatMap(({ standing, sheet }) => (standing === 'counts' && sheet ? [sheet] : []));
    busy.value = true;
    counted.value = { codes, tallies: await tallySteps(w, lesson, sheets, evaluator) };
    busy.value = false;
  }
  mount(node, ({ width, em }) => {
    const { title } = draft.lesson.value;
    const unable = busy.value || draft.fault.value !== undefined || pasted.value.trim() === '';
    const now = counted.value;
    return html`
      <h1>${w.tally.title}</h1>
      <p class="note">${title}. ${w.tally.about}</p>
      ${draft.fault.value === undefined ? nothing : html`<p class="status-warning">${iconView('warning')}${w.maker.mend(draft.fault.value)}</p>`}
      <div class="field">
        <label for="codes">${w.tally.codes}</label>
        <textarea
          id="codes"
          rows="8"
          spellcheck="false"
          autocomplete="off"
          @input=${(event: Event) => {
            pasted.value = (event.target as HTMLTextAreaElement).value;
          }}
        ></textarea>
      </div>
      <div class="button-row">
        <button type="button" ?disabled=${unable} @click=${() => void count()}>${w.tally.count}</button>
        <button
          type="button"
          ?disabled=${now === undefined}
          @click=${() => now && saveFile('answers.csv', 'text/csv', tallyCsv(title, now.tallies))}
        >
          ${w.tally.csv}
        </button>
        <button type="button" @click=${() => onGo('make')}>${w.tally.back}</button>
      </div>
      <p role="status">${busy.value ? w.tally.counting : nothing}</p>
      ${now ? [codesView(w, now.codes), ...now.tallies.map((tally, k) => stepView(w, tally, k, now, { width, em }))] : nothing}
    `;
  });
  return node;
}

function codesView(w: MadeWords, codes: readonly PastedCode[]): TemplateResult {
  const counts = codes.filter(({ standing }) => standing === 'counts').length;
  const others = codes.flatMap((code, k) => (code.standing === 'counts' ? [] : [{ ...code, k }]));
  return html`<section class="tally-codes">
    <p class=${others.length === 0 ? 'status-ok' : 'status-warning'}>
      ${iconView(others.length === 0 ? 'ok' : 'warning')}${w.tally.counted(counts, codes.length)}
    </p>
    ${
      others.length === 0
        ? nothing
        : html`<ul>
            ${others.map(
              ({ k, text, standing }) =>
                html`<li data-standing=${standing}>
                  ${w.tally.line(k + 1, text, w.tally.standings[standing])}
                </li>`,
            )}
          </ul>`
    }
  </section>`;
}

function stepView(w: MadeWords, tally: StepTally, place: number, now: Counted, room: Room): TemplateResult {
  const all = now.codes.filter(({ standing }) => standing === 'counts').length;
  const right = tally.answers.filter((answer) => answer.right).length;
  return html`<section class="tally-step" data-step=${place + 1}>
    <h2>${place + 1} ${tally.title}</h2>
    <p>${tally.question}</p>
    <p><strong>${w.tally.answered(right, tally.answers.length, all)}</strong></p>
    ${tally.answers.length === 0 ? nothing : answersView(w, tally, place, room)}
  </section>`;
}
