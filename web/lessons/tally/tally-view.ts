import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import { saveFile } from '../../sharing/save.ts';
import { h } from '../../ui/dom.ts';
import { iconView } from '../../ui/icon-view.ts';
import { mount } from '../../ui/mount.ts';
import { scrollTable } from '../../ui/table.ts';
import type { Evaluator } from '../made/evaluator.ts';
import { lessonNumber, shapesOf } from '../made/shapes.ts';
import { readCodes, type PastedCode } from '../made/tally.ts';
import { inLanguage } from '../result-chart.ts';
import type { MadeWords } from '../words/made-words.ts';
import { plainNumber, quantityText } from '../words/say.ts';
import type { Draft } from '../maker/draft.ts';
import { choiceCounts, pointsOf } from './distribution.ts';
import { dotStrip } from './dot-strip.ts';
import { drawingsOf, overlaidChart } from './overlaid.ts';
import { tallySteps, type StepTally } from './step-tally.ts';
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

interface Room {
  readonly width: number;
  readonly em: number;
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

function answersView(
  w: MadeWords,
  tally: StepTally,
  place: number,
  { width, em }: Room,
): TemplateResult | typeof nothing {
  const choices = choiceCounts(w, tally);
  if (choices) return choicesView(w, tally, choices);
  const drawings = drawingsOf(tally);
  if (drawings)
    return html`${inLanguage(
      w.course,
      overlaidChart(drawings, {
        id: `tally-${place}`,
        name: w.tally.drawings(tally.title, drawings.drawn.length),
        width,
        em,
      }),
    )}`;
  const points = pointsOf(tally);
  if (!points) return nothing;
  const { unit, target } = points;
  const told =
    target === undefined
      ? ''
      : unit === ''
        ? plainNumber(w.course, Number(target.toPrecision(3)))
        : quantityText(w.course, target, unit, 3);
  return html`${inLanguage(
    w.course,
    dotStrip({
      ...points,
      name: `${w.tally.distribution(tally.title)}: ${tally.answers.map(({ text }) => text).join('; ')}`,
      symbol: unit === 'V' ? 'u' : unit === 's' ? 't' : '',
      targetText: w.tally.asked(told),
      width,
      em,
    }),
  )}`;
}

const choicesView = (
  w: MadeWords,
  tally: StepTally,
  choices: NonNullable<ReturnType<typeof choiceCounts>>,
): TemplateResult =>
  scrollTable({
    name: w.tally.distribution(tally.title),
    heads: [w.tally.answerHead, w.tally.studentsHead, ''],
    className: 'tally-choices',
    rows: choices.map(({ text, count, right }) => [
      html`${right ? iconView('ok') : nothing}${text}`,
      count,
      html`<meter
        min="0"
        max=${Math.max(1, tally.answers.length)}
        .value=${count}
        aria-hidden="true"
      ></meter>`,
    ]),
  });
