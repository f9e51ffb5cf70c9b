import { html, nothing, type TemplateResult } from 'lit-html';
import type { Design } from '../../engine/design/design.ts';
import type { Diagnosis } from '../../engine/fitting/diagnosis/diagnosis.ts';
import type { ExplainedTrace, Explanation } from '../../engine/fitting/diagnosis/diagnosis.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import type { RawDesign } from '../model/pointer.ts';
import { fieldError } from '../ui/field.ts';
import { startAndCancel, statusRow, type Said, type WorkState } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import { percent } from './bench-words.ts';
import { formView, withCaptures } from './section.ts';

/** A diagnosis with what it is of. */
export interface Diagnosed {
  readonly answer: Diagnosis;
  readonly of: RawDesign;
  readonly design: Design;
  readonly captures: readonly BenchCapture[];
}

/** An explanation with its traces, the one over the first capture first. */
export type Drawable = Explanation & {
  readonly traces: readonly [ExplainedTrace, ...(readonly ExplainedTrace[])];
};

export const drawable = ({ explanations }: Diagnosis): Drawable[] =>
  explanations.filter((each): each is Drawable => each.traces !== undefined && each.traces.length > 0);

export interface DiagnoseViewOptions {
  /** There are captures. */
  readonly some: boolean;
  readonly work: WorkState;
  readonly found: Diagnosed | undefined;
  /** What was found is of other inputs. */
  readonly old: boolean;
  readonly shown: number;
  /** What is wrong with the strobe as typed. */
  readonly fault: string | undefined;
  /** The design does not hold. */
  readonly unable: boolean;
  readonly figure: HTMLElement;
  readonly onLook: (strobe: HTMLInputElement) => void;
  readonly onShow: (place: number) => void;
  readonly onCancel: () => void;
}

export const diagnoseView = (options: DiagnoseViewOptions): TemplateResult => {
  const { some, work, found, old } = options;
  return withCaptures(
    some,
    'Take a capture of the build that fails first.',
    html`<p class="note">
        Of every capture on the bench, against the design in the planning view as it should be. A read of a
        ONE and a cycle that writes a ZERO tell most.
      </p>
      ${askForm(options)}
      ${statusRow({ work, name: 'Trying faults', otherwise: found && saidOf(found, old) })}
      <div class=${old || work.running ? 'bench-output stale' : 'bench-output'} ?hidden=${!found}>
        ${found ? foundView(found, options) : nothing}
      </div>`,
  );
};

const askForm = ({ fault, unable, work: { running }, onLook, onCancel }: DiagnoseViewOptions) =>
  formView({
    name: 'Look for a fault',
    onSubmit: (form) => onLook(form.querySelector('input')!),
    content: html`<div class="field bench-name">
        <label for="bench-strobe">Strobe seen at, on the first capture’s own time</label>
        <input
          id="bench-strobe"
          type="text"
          autocomplete="off"
          placeholder="not recorded"
          aria-invalid=${String(fault !== undefined)}
          aria-describedby=${fault === undefined ? nothing : 'bench-strobe-error'}
        />
        ${fieldError('bench-strobe-error', fault && `This must be a time with its unit, but it ${fault}.`)}
      </div>
      ${startAndCancel({ text: 'Look for a fault', running, unable, onCancel })}`,
  });

/** How each verdict is marked, and how one begins to tell it. */
const VERDICTS = {
  healthy: { sign: 'ok', head: 'Healthy.' },
  'nothing seen': { sign: 'ok', head: 'Nothing wrong is seen.' },
  fault: { sign: 'error', head: 'One fault explains it.' },
  'one of several': { sign: 'warning', head: 'One of several.' },
  'two faults': { sign: 'error', head: 'Two faults explain it.' },
  'small difference': { sign: 'warning', head: 'Small difference, cause not told.' },
  'none of these': { sign: 'warning', head: 'None of these.' },
} as const;

function saidOf({ answer: { verdict, statement } }: Diagnosed, old: boolean): Said {
  if (old) return { sign: 'stale', text: 'Stale: of the design or the captures before. Look again.' };
  const { sign, head } = VERDICTS[verdict];
  return { sign, text: `${head} ${statement}` };
}

function foundView({ answer }: Diagnosed, { shown, figure, onShow }: DiagnoseViewOptions): TemplateResult {
  const { notTried } = answer;
  const drawn = drawable(answer);
  return html`${rankedTable(answer.explanations)}
    <p class="note">
      ${notTried.length > 0 ? `Not tried, since these captures could not show them: ${notTried.join('; ')}.` : ''}
    </p>
    ${
      drawn.length === 0
        ? nothing
        : html`<div class="place">
              <div class="field bench-name">
                <label for="bench-explanation">Explanation drawn</label>
                <select
                  id="bench-explanation"
                  @change=${(event: Event) => onShow((event.currentTarget as HTMLSelectElement).selectedIndex)}
                >
                  ${drawn.map(({ title }, i) => html`<option .selected=${i === shown}>${title}</option>`)}
                </select>
              </div>
            </div>
            ${figure}`
    }`;
}

/** Explanations shown at most. */
const MOST = 12;

const rankedTable = (explanations: readonly Explanation[]): TemplateResult =>
  scrollTable({
    name: 'Explanations, best first',
    className: 'bench-ranked',
    caption: 'Explanations, best first',
    heads: ['Explanation', 'explains', 'left over what is allowed', 'Evidence'],
    rows: explanations
      .slice(0, MOST)
      .map(({ title, explains, misfit, evidence }) => [
        title,
        explains > 0 ? percent(explains) : 'nothing',
        String(Number(misfit.toPrecision(2))),
        evidence,
      ]),
    cellClasses: { 3: 'note' },
  });
