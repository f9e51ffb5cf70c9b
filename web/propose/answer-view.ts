import { html, nothing, type TemplateResult } from 'lit-html';
import type { Proposals, Rejected } from '../../engine/propose/answer.ts';
import type { Proved } from '../../engine/propose/prove.ts';
import { combinationWords, rangeWords } from '../../engine/propose/build-words.ts';
import {
  coreWords,
  meritWords,
  PROPOSAL_ROWS,
  proposalRow,
  whyWords,
} from '../../engine/propose/proposal-words.ts';
import { proposalsSentence, rejectedWords, relaxedWords } from '../../engine/propose/answer-words.ts';
import type { Relaxed } from '../../engine/propose/relax.ts';
import { reserveChart } from './reserve-chart.ts';
import { iconView } from '../ui/icon-view.ts';

export interface AnswerOptions {
  readonly answer: Proposals;
  /** Cores that there were to choose from. */
  readonly cores: number;
  /** The search goes on. */
  readonly running: boolean;
  /** The needs were changed since. */
  readonly old: boolean;
  readonly onOpen: (build: Proved) => void;
  readonly onSave: (build: Proved) => void;
  /** Puts what one need must become into the needs. */
  readonly onEase: (relaxed: Relaxed) => void;
}

/** Builds side by side, or what stands in the way of any. */
export function answerView(options: AnswerOptions): TemplateResult {
  const { answer, old } = options;
  const { proposals, nearest } = answer;
  return html`<section class="proposals" aria-labelledby="proposals-title">
    <h3 id="proposals-title">Builds</h3>
    ${old ? html`<p class="note">${iconView('stale')} Of the needs before the change.</p>` : nothing}
    ${sentence(options)} ${reserveChart(answer, options.cores)}
    <div class="proposal-cards">
      ${proposals.map((item, i) => card(item, i + 1, options))}
      ${nearest ? nearestCard(nearest, options) : nothing}
    </div>
    ${answer.relax.length > 0 ? relaxList(answer.relax, options) : nothing}
    ${answer.rejected.length > 0 ? rejectedList(answer.rejected, options) : nothing}
  </section>`;
}

/** What came out; of a search that goes on what its own line says is enough. */
function sentence({ answer, running }: AnswerOptions): TemplateResult | typeof nothing {
  if (running) return nothing;
  const sign = answer.met ? 'ok' : answer.complete ? 'error' : 'warning';
  return html`<p class="status status-${sign}">${iconView(sign)} ${proposalsSentence(answer)}</p>`;
}

const named = ({ combination }: Pick<Proved, 'combination'>, { cores }: AnswerOptions): string =>
  combinationWords(combination, cores);

function card(item: Proposals['proposals'][number], number: number, options: AnswerOptions): TemplateResult {
  const row = proposalRow(item);
  const title = named(item, options);
  const unknown = coreWords(item);
  return html`<article class="proposal" aria-label="Build ${number}: ${title}">
    <h4>${number}. ${title}</h4>
    <p class="merits">${meritWords(item)}</p>
    <dl>
      ${PROPOSAL_ROWS.map(
        (label, i) =>
          html`<div>
            <dt>${label}</dt>
            <dd>${row[i]}</dd>
          </div>`,
      )}
    </dl>
    ${unknown === undefined ? nothing : html`<p class="small">${iconView('warning')} ${unknown}</p>`}
    <details>
      <summary>What limits it</summary>
      <p class="small">${whyWords(item)}.</p>
      ${item.proof.warnings.map((sentence) => html`<p class="small">${iconView('warning')} ${sentence}</p>`)}
    </details>
    ${
      item.ranges === undefined || item.ranges.length === 0
        ? nothing
        : html`<details>
            <summary>How far each value may move</summary>
            <p class="small">One alone, strobe and threshold set anew, until 5 % of the reserve are gone:</p>
            <ul class="small">
              ${item.ranges.map((range) => html`<li>${rangeWords(range)}</li>`)}
            </ul>
          </details>`
    }
    ${buttons(item, `number ${number}`, options)}
  </article>`;
}

const nearestCard = (item: Proved, options: AnswerOptions): TemplateResult =>
  html`<article class="proposal nearest" aria-label="Nearest build: ${named(item, options)}">
    <h4>Nearest: ${named(item, options)}</h4>
    <p class="note">It does not do all that is asked for, or that is not shown yet.</p>
    ${buttons(item, 'the nearest', options)}
  </article>`;

const buttons = (item: Proved, what: string, { onOpen, onSave }: AnswerOptions): TemplateResult =>
  html`<div class="button-row">
    <button type="button" aria-label="Open this build: ${what}" @click=${() => onOpen(item)}>
      Open this build
    </button>
    <button type="button" aria-label="Save its file: ${what}" @click=${() => onSave(item)}>
      Save its file
    </button>
  </div>`;

/** One need each: those that are enough alone first, with a button that puts them into the needs. */
const relaxList = (relax: readonly Relaxed[], { onEase }: AnswerOptions): TemplateResult =>
  html`<h4>What one need alone would have to become</h4>
    <ul class="relax">
      ${relax.map(
        (item) =>
          html`<li>
            <span>${iconView(item.to === null ? 'error' : 'ok')} ${relaxedWords(item)}</span>
            ${
              item.to === null
                ? nothing
                : html`<button
                    type="button"
                    aria-label="Put it into the needs: ${item.label}"
                    @click=${() => onEase(item)}
                  >
                    Put it into the needs
                  </button>`
            }
          </li>`,
      )}
    </ul>`;

const rejectedList = (rejected: readonly Rejected[], options: AnswerOptions): TemplateResult =>
  html`<details class="rejected">
    <summary>Not chosen (${rejected.length})</summary>
    <ul>
      ${rejected.map((item) => html`<li><strong>${named(item, options)}</strong>: ${rejectedWords(item)}</li>`)}
    </ul>
  </details>`;
