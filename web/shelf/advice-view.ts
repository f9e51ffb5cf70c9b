import { html, nothing, type TemplateResult } from 'lit-html';
import { fieldError } from '../ui/field.ts';
import { startAndCancel, statusRow, type Said, type WorkState } from '../ui/status.ts';
import { changesPart, costTable } from './advice-tables.ts';
import { verdictOf, type Advised, type TakeChange } from './advice-words.ts';

/** What is wanted, as typed, and what is wrong with it. */
export interface Wanted {
  readonly text: string;
  readonly fault?: string;
}

export interface AdviceViewOptions {
  readonly margin: Wanted;
  readonly width: Wanted;
  readonly work: WorkState;
  /** There is no design to ask about. */
  readonly unable: boolean;
  readonly found: Advised | undefined;
  /** What was found is of other inputs. */
  readonly old: boolean;
  readonly onMargin: (text: string) => void;
  readonly onWidth: (text: string) => void;
  readonly onStart: () => void;
  readonly onCancel: () => void;
  readonly onTake: TakeChange;
}

export const adviceView = (options: AdviceViewOptions): TemplateResult => {
  const { margin, width, work, unable, found, old, onStart, onCancel, onTake } = options;
  const { running } = work;
  return html`<p class="note">
      Every input is moved a little and every pattern that counts is run again; then the smallest change of
      each single input that reaches the wanted margin and width is sought. Half a minute or so.
    </p>
    <div class="place">
      ${wantedField('wanted-margin', 'Wanted margin', margin, options.onMargin)}
      ${wantedField('wanted-width', 'Wanted width', width, options.onWidth)}
      ${startAndCancel({ text: 'Work it out', running, unable, onStart, onCancel })}
    </div>
    ${statusRow({ work, name: 'Parts worked out', otherwise: found && saidOf(found, old) })}
    <div class=${old ? 'advice stale' : 'advice'}>
      ${
        found && found.advice.failed === undefined
          ? html`${costTable(found.advice)} ${changesPart(found, onTake)}`
          : nothing
      }
    </div>`;
};

const wantedField = (id: string, label: string, { text, fault }: Wanted, onType: (text: string) => void) =>
  html`<div class="field">
    <label for=${id}>${label}</label>
    <input
      id=${id}
      type="text"
      autocomplete="off"
      spellcheck="false"
      aria-describedby="${id}-error"
      aria-invalid=${String(fault !== undefined)}
      .value=${text}
      @input=${(event: Event) => onType((event.currentTarget as HTMLInputElement).value)}
    />
    ${fieldError(`${id}-error`, fault)}
  </div>`;

const saidOf = ({ advice }: Advised, old: boolean): Said =>
  old ? { sign: 'stale', text: 'Stale: worked out for the inputs before.' } : verdictOf(advice);
