import { html, nothing, type TemplateResult } from 'lit-html';
import { statusLine, type WorkState } from '../ui/status.ts';

/** Labels of the captures to read, and what goes with them as typed. */
export interface JigGiven {
  readonly one: string;
  readonly zero: string;
  /** The drive current beside each; '' where it was not captured. */
  readonly oneCurrent: string;
  readonly zeroCurrent: string;
  readonly oneStart: string;
  readonly zeroStart: string;
  readonly gain: string;
}

export interface JigCapturesOptions {
  /** Captures there are to choose from. */
  readonly labels: readonly string[];
  readonly given: JigGiven;
  readonly work: WorkState;
  readonly onGive: (part: Partial<JigGiven>) => void;
  readonly onMeasure: () => void;
  readonly onSamples: () => void;
}

const START = 'There the drive’s rise starts at';

export const jigCapturesView = (options: JigCapturesOptions): TemplateResult => {
  const { given } = options;
  return html`<details>
    <summary>Read uV1, t_p, t_s and dVz off captures</summary>
    <p class="note">
      Of captures on the bench: each begins before the drive rises and lasts until the answer has died away.
      The rise of the drive is that of the fields above, unless its current was captured too: put that trace
      on the bench as a capture of its own, and full drive, rise and start are read off it.
    </p>
    <div class="bench-fields">
      ${captureField('one', 'jig-one', 'Undisturbed ONE at full drive', 'choose a capture', options)}
      ${captureField('oneCurrent', 'jig-one-current', 'Drive current beside it', 'none', options)}
      ${given.oneCurrent === '' ? textField('oneStart', 'jig-one-start', START, '0 ns', options) : nothing}
      ${captureField('zero', 'jig-zero', 'Disturbed ZERO at full drive', 'none', options)}
      ${captureField('zeroCurrent', 'jig-zero-current', 'Drive current beside it', 'none', options)}
      ${given.zeroCurrent === '' ? textField('zeroStart', 'jig-zero-start', START, '0 ns', options) : nothing}
      ${textField('gain', 'jig-gain', 'Volts captured over volts per turn at the core', '1', options)}
    </div>
    <div class="button-row">
      <button type="button" @click=${options.onMeasure}>Read them off</button>
      <button type="button" @click=${options.onSamples}>Try two invented captures</button>
    </div>
    <div class="status-row">${statusLine(options.work.said)}</div>
  </details>`;
};

const captureField = (
  part: 'one' | 'zero' | 'oneCurrent' | 'zeroCurrent',
  id: string,
  label: string,
  none: string,
  { labels, given, onGive }: JigCapturesOptions,
): TemplateResult =>
  html`<div class="field">
    <label for=${id}>${label}</label>
    <select
      id=${id}
      @change=${(event: Event) => onGive({ [part]: (event.currentTarget as HTMLSelectElement).value })}
    >
      <option value="" .selected=${!labels.includes(given[part])}>${none}</option>
      ${labels.map((each) => html`<option value=${each} .selected=${each === given[part]}>${each}</option>`)}
    </select>
  </div>`;

const textField = (
  part: 'oneStart' | 'zeroStart' | 'gain',
  id: string,
  label: string,
  example: string,
  { given, onGive }: JigCapturesOptions,
): TemplateResult =>
  html`<div class="field">
    <label for=${id}>${label}</label>
    <input
      id=${id}
      type="text"
      autocomplete="off"
      placeholder=${example}
      .value=${given[part]}
      @input=${(event: Event) => onGive({ [part]: (event.currentTarget as HTMLInputElement).value })}
    />
  </div>`;
