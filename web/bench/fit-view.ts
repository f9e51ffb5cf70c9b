import { html, nothing, type TemplateResult } from 'lit-html';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import type { UnknownName } from '../../engine/fitting/unknown-table.ts';
import type { Knowledge } from '../../engine/predict/knowledge.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import { startAndCancel, statusLine, statusRow, type Said, type WorkState } from '../ui/status.ts';
import { unknownWords } from './bench-words.ts';
import { fitResult, fitStatus } from './fit-result.ts';
import { withCaptures } from './section.ts';

/** What was found, with the captures it is of. */
export interface Fitted {
  readonly fit: FitResult;
  readonly captures: readonly BenchCapture[];
  readonly known: Knowledge;
}

export interface FitViewOptions {
  readonly captures: readonly BenchCapture[];
  /** Captures that the reader leaves out. */
  readonly left: ReadonlySet<number>;
  readonly unknowns: TemplateResult;
  readonly chosen: readonly UnknownName[];
  /** There is nothing to fit, or nothing to fit it to. */
  readonly unable: boolean;
  readonly work: WorkState;
  readonly found: Fitted | undefined;
  /** What was found is of other captures. */
  readonly old: boolean;
  /** The planning view was given what was found. */
  readonly used: boolean;
  readonly onTake: (id: number, taken: boolean) => void;
  readonly onFit: () => void;
  readonly onCancel: () => void;
  readonly onUse: (found: Fitted) => void;
  readonly onSaveDesign: (found: Fitted) => void;
  readonly onSaveFit: (found: Fitted) => void;
  readonly onPlan: () => void;
}

export const fitView = (options: FitViewOptions): TemplateResult => {
  const { captures, unknowns, chosen, unable, work, found, old, onFit, onCancel } = options;
  const { running } = work;
  return withCaptures(
    captures.length > 0,
    'Take a capture first: a fit finds what the design does not know from what was measured.',
    html`${sourcesView(options)} ${unknowns}
      <p class="note">
        ${
          chosen.length > 0
            ? `To find: ${chosen.map(unknownWords).join(', ')}.`
            : 'Nothing is chosen yet: tick what is not known.'
        }
      </p>
      <div class="button-row">
        ${startAndCancel({ text: 'Fit', running, unable, onStart: onFit, onCancel })}
      </div>
      ${statusRow({ work, name: 'Fitting', otherwise: found && saidOf(found, old) })}
      <div class=${old || running ? 'bench-output stale' : 'bench-output'} ?hidden=${!found}>
        ${found ? foundView(found, options) : nothing}
      </div>`,
  );
};

const saidOf = ({ fit }: Fitted, old: boolean): Said =>
  old ? { sign: 'stale', text: 'Stale: of the captures before. Fit again.' } : fitStatus(fit);

const sourcesView = ({ captures, left, onTake }: FitViewOptions): TemplateResult =>
  html`<fieldset class="choices">
    <legend>From</legend>
    ${captures.map(
      ({ id, label }) =>
        html`<label
          ><input
            type="checkbox"
            id="bench-from-${id}"
            .checked=${!left.has(id)}
            @change=${(event: Event) => onTake(id, (event.currentTarget as HTMLInputElement).checked)}
          />${label}</label
        >`,
    )}
  </fieldset>`;

function foundView(found: Fitted, options: FitViewOptions): TemplateResult {
  const { used, onUse, onSaveDesign, onSaveFit } = options;
  const samples = found.fit.captures.reduce((sum, { comparison }) => sum + comparison.time.length, 0);
  return html`${fitResult(found.fit, samples)}
    <div class="button-row">
      <button type="button" @click=${() => onUse(found)}>Use the fitted design</button>
      <button type="button" @click=${() => onSaveDesign(found)}>Save the fitted design</button>
      <button type="button" @click=${() => onSaveFit(found)}>Save the fit</button>
    </div>
    ${statusLine(used ? usedWords(options) : undefined)}`;
}

const usedWords = ({ onPlan }: FitViewOptions): Said => ({
  sign: 'ok',
  text: html`The planning view holds the fitted design; Undo there brings back the one before.
    <button type="button" @click=${onPlan}>Go to the planning view</button>`,
});
