import { html, noChange, type TemplateResult } from 'lit-html';
import { live } from 'lit-html/directives/live.js';
import type { Core } from '../../state/atoms.ts';
import { FAULTS, type Fault } from './core-changes.ts';

export interface CoreCardOptions {
  readonly core: Core;
  readonly size: { readonly rows: number; readonly columns: number };
  /** It is the core that is read. */
  readonly read: boolean;
  readonly fault: Fault;
  /** What it holds and gives, in words. */
  readonly told: string;
  readonly onLook: (core: Core) => void;
  readonly onTurn: () => void;
  readonly onRead: () => void;
  readonly onFault: (fault: Fault) => void;
}

/** The core that is looked at, and what can be done to it. */
export const coreCard = (options: CoreCardOptions): TemplateResult => {
  const { core, size, read, fault, told, onLook, onTurn, onRead, onFault } = options;
  const place = (name: 'row' | 'column', label: string, last: number) =>
    html`<label
      >${label}
      <input
        type="number"
        inputmode="numeric"
        min="0"
        max=${last}
        step="1"
        data-place=${name}
        .value=${isTyped(name) ? noChange : live(String(core[name]))}
        @change=${({ currentTarget }: Event) => {
          const input = currentTarget as HTMLInputElement;
          const typed = Math.round(Number(input.value)) || 0;
          const chosen = Math.min(Math.max(typed, 0), last);
          input.value = String(chosen);
          onLook({ ...core, [name]: chosen });
        }}
    /></label>`;
  return html`
    <p class="note told" aria-live="polite">${told}</p>
    <div class="core-place">
      ${place('row', 'Row', size.rows - 1)} ${place('column', 'Column', size.columns - 1)}
      <button type="button" @click=${onTurn}>Turn its bit</button>
      <button type="button" ?disabled=${read} @click=${onRead}>Read it</button>
    </div>
    <div class="core-place">
      <label class="core-fault"
        >This core is
        <select
          @change=${({ currentTarget }: Event) =>
            onFault((currentTarget as HTMLSelectElement).value as Fault)}
        >
          ${FAULTS.map(
            ([value, text]) => html`<option value=${value} ?selected=${value === fault}>${text}</option>`,
          )}
        </select></label
      >
    </div>
  `;
};

/** A field that is being typed in is left alone: an answer that comes meanwhile must not take its digits away. */
const isTyped = (name: string): boolean =>
  document.activeElement instanceof HTMLElement && document.activeElement.dataset.place === name;
