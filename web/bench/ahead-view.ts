import { html, nothing, type TemplateResult } from 'lit-html';
import {
  FIGURE_HEADER,
  figureRows,
  groundSentences,
  outsideSentences,
} from '../../engine/predict/predict-words.ts';
import { NEXT_HEADER, nextRows, nextSentences, PROCEDURE } from '../../engine/predict/next/next-words.ts';
import type { WhatNext } from '../../engine/predict/next/what-next.ts';
import type { Prediction } from '../../engine/predict/prediction.ts';
import { startAndCancel, statusRow, type Said, type WorkState } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import { formView } from './section.ts';

/** What is to be otherwise, as typed; empty: as it is. */
export interface Otherwise {
  readonly rows: string;
  readonly columns: string;
  readonly current: string;
  readonly temperature: string;
}

export interface AheadViewOptions {
  /** On what it rests. */
  readonly from: string;
  readonly unable: boolean;
  readonly predicting: WorkState;
  readonly ranking: WorkState;
  readonly prediction: Prediction | undefined;
  readonly next: WhatNext | undefined;
  /** What was found is of another fit or design. */
  readonly old: boolean;
  readonly onPredict: (otherwise: Otherwise) => void;
  /** The traces with their bands. */
  readonly figure: HTMLElement;
  /** Opens the design of the prediction in the planning view. */
  readonly onOpen: () => void;
  readonly onNext: () => void;
  readonly onCancel: () => void;
  readonly onSheet: (next: WhatNext) => void;
}

const FIELDS: readonly (readonly [name: keyof Otherwise, label: string])[] = [
  ['rows', 'Rows'],
  ['columns', 'Columns'],
  ['current', 'Read current of a line'],
  ['temperature', 'Temperature'],
];

const STALE: Said = { sign: 'stale', text: 'Stale: of what was known before. Ask again.' };

/** A prediction with its intervals, and what to measure next. */
export const aheadView = (options: AheadViewOptions): TemplateResult => {
  const { from, unable, predicting, ranking, prediction, next, old, onNext, onCancel, onSheet } = options;
  const stale = (running: boolean): string => (old || running ? 'bench-output stale' : 'bench-output');
  return html`<p class="note">${from}</p>
    ${otherwiseForm(options)}
    ${statusRow({ work: predicting, name: 'Predicting with intervals', otherwise: prediction && (old ? STALE : undefined) })}
    <div class=${stale(predicting.running)} ?hidden=${!prediction}>
      ${prediction ? predictionView(prediction, options) : nothing}
    </div>
    <h3>Measure next</h3>
    <div class="button-row">
      ${startAndCancel({ text: 'Rank what to measure', running: ranking.running, unable, onStart: onNext, onCancel })}
    </div>
    ${statusRow({ work: ranking, name: 'Ranking', otherwise: next && (old ? STALE : undefined) })}
    <div class=${stale(ranking.running)} ?hidden=${!next}>
      ${
        next
          ? html`${nextView(next)}
              <div class="button-row">
                <button type="button" @click=${() => onSheet(next)}>Save the sheet to print</button>
              </div>`
          : nothing
      }
    </div>`;
};

const otherwiseForm = ({ unable, predicting: { running }, onPredict, onCancel }: AheadViewOptions) =>
  formView({
    name: 'What is to be otherwise',
    onSubmit: (form) => {
      const typed = [...form.querySelectorAll('input')].map(({ value }) => value.trim());
      onPredict(Object.fromEntries(FIELDS.map(([name], i) => [name, typed[i]!])) as unknown as Otherwise);
    },
    content: html`${FIELDS.map(
      ([name, label]) =>
        html`<div class="field">
          <label for="bench-ahead-${name}">${label}</label>
          <input type="text" id="bench-ahead-${name}" placeholder="as it is" />
        </div>`,
    )}
    ${startAndCancel({ text: 'Predict with intervals', running, unable, onCancel })}`,
  });

const sentences = (texts: readonly string[]): TemplateResult =>
  html`<ul class="findings">
    ${texts.map((text) => html`<li>${text}</li>`)}
  </ul>`;

const predictionView = (found: Prediction, { figure, onOpen }: AheadViewOptions): TemplateResult =>
  html`${scrollTable({
      name: 'Prediction with intervals',
      caption: `Predicted for ${found.design.mat.rows} × ${found.design.mat.columns}`,
      heads: FIGURE_HEADER,
      rows: figureRows(found),
    })}
    ${figure} ${sentences([...outsideSentences(found), ...groundSentences(found)])}
    <div class="button-row">
      <button type="button" @click=${onOpen}>Open it in the planning view</button>
    </div>`;

const nextView = (found: WhatNext): TemplateResult =>
  html`${nextSentences(found).map((text) => html`<p class="note">${text}</p>`)}
    ${scrollTable({ name: 'What to measure next', heads: NEXT_HEADER, rows: nextRows(found) })}
    <details>
      <summary>How to go about it</summary>
      ${sentences(PROCEDURE)}
    </details>`;
