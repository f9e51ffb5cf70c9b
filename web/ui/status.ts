import { html, nothing, type TemplateResult } from 'lit-html';
import { iconView } from './icon-view.ts';
import type { IconName } from './icons.ts';

/** What a panel says of its work: a sign, and words beside it. */
export interface Said {
  readonly sign: IconName;
  readonly text: string | TemplateResult;
}

/** How far work has come, and that in words. */
export interface Progress {
  readonly done: number;
  readonly planned: number;
  readonly text: string;
}

/** Work that a panel started: `progress` from its first piece on. */
export interface WorkState {
  readonly running: boolean;
  readonly progress?: Progress;
  readonly said?: Said;
}

export const statusLine = (said: Said | undefined): TemplateResult =>
  html`<p class="status" role="status">${said ? [iconView(said.sign), said.text] : nothing}</p>`;

export interface StatusRowOptions {
  readonly work: WorkState;
  /** Accessible name of the bar. */
  readonly name: string;
  /** Said while the work says nothing itself. */
  readonly otherwise?: Said;
}

/** What is said of some work, and how far it has come. */
export const statusRow = ({ work, name, otherwise }: StatusRowOptions): TemplateResult =>
  html`<div class="status-row">
    ${statusLine(work.said ?? otherwise)}
    <progress
      aria-label=${name}
      ?hidden=${!work.running}
      max=${work.progress?.planned ?? nothing}
      value=${work.progress?.done ?? nothing}
    ></progress>
  </div>`;

export interface StartOptions {
  readonly text: string;
  readonly running: boolean;
  /** There is nothing to start from. */
  readonly unable?: boolean;
  /** Absent: the button submits its form. */
  readonly onStart?: () => void;
  readonly onCancel: () => void;
}

/** The button that starts some work, which stands still meanwhile, and the way out. */
export const startAndCancel = ({ text, running, unable, onStart, onCancel }: StartOptions): TemplateResult =>
  html`<button
      type=${onStart ? 'button' : 'submit'}
      ?disabled=${running || unable}
      @click=${onStart ?? nothing}
    >
      ${text}</button
    ><button
      type="button"
      ?hidden=${!running}
      @click=${(event: Event) => {
        const start = (event.currentTarget as HTMLElement).previousElementSibling as HTMLElement;
        onCancel();
        // Once it is drawn as one that can be pressed.
        requestAnimationFrame(() => start.focus());
      }}
    >
      Cancel
    </button>`;
