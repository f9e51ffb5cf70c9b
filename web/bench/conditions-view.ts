import { html, type TemplateResult } from 'lit-html';
import type { Design } from '../../engine/design/design.ts';
import type { BenchCapture, WriteAfter } from '../model/bench-capture.ts';
import { radioChoice } from '../ui/choice.ts';
import { fieldError } from '../ui/field.ts';

const WRITE_WORDS: Readonly<Record<WriteAfter, string>> = {
  design: 'as the design says',
  one: 'a ONE, not inhibited',
  zero: 'a ZERO, inhibited',
  none: 'nothing',
};

export interface ConditionsOptions {
  readonly captures: readonly BenchCapture[];
  readonly chosen: BenchCapture;
  readonly design: Design;
  /** What is wrong with the read current as typed. */
  readonly currentFault: string | undefined;
  readonly onChoose: (id: number) => void;
  readonly onRemove: () => void;
  readonly onChange: (part: Partial<BenchCapture>) => void;
  readonly onCurrent: (text: string) => void;
}

/** Which captures are on the bench, and what the chosen one was taken of. */
export const conditionsView = (options: ConditionsOptions): TemplateResult =>
  html`<div class="bench-conditions">
    <div class="place">
      ${captureSelect(options)}
      <button type="button" @click=${options.onRemove}>Take it off</button>
    </div>
    <div class="choice-row">${choices(options)}</div>
    <div class="place">
      ${sideField('row', 'Row read', options)} ${sideField('column', 'Column', options)}
      ${writeSelect(options)} ${currentField(options)}
    </div>
  </div>`;

const captureSelect = ({ captures, chosen, onChoose }: ConditionsOptions): TemplateResult =>
  html`<div class="field bench-name">
    <label for="bench-chosen">Capture</label>
    <select
      id="bench-chosen"
      @change=${(event: Event) => onChoose(Number((event.currentTarget as HTMLSelectElement).value))}
    >
      ${captures.map(
        ({ id, label }) => html`<option value=${id} .selected=${id === chosen.id}>${label}</option>`,
      )}
    </select>
  </div>`;

const choices = ({ chosen, onChange }: ConditionsOptions): TemplateResult[] => [
  radioChoice({
    title: 'The core held',
    options: [
      ['1', 'a ONE'],
      ['0', 'a ZERO'],
    ],
    chosen: chosen.bit === 1 ? '1' : '0',
    onChoose: (value) => onChange({ bit: value === '1' ? 1 : 0 }),
  }),
  radioChoice({
    title: 'It holds',
    options: [
      ['read', 'the read'],
      ['any', 'any part of the cycle'],
    ],
    chosen: chosen.part,
    onChoose: (part) => onChange({ part }),
  }),
  radioChoice({
    title: 'Taken at',
    options: [
      ['sense', 'the sense wire'],
      ['amplifier', 'the amplifier’s output'],
    ],
    chosen: chosen.observed,
    onChoose: (observed) => onChange({ observed }),
  }),
  radioChoice({
    title: 'How far amplified',
    options: [
      ['fixed', 'as given'],
      ['free', 'to be found'],
    ],
    chosen: chosen.probeGain,
    onChoose: (probeGain) => onChange({ probeGain }),
  }),
  radioChoice({
    title: 'Bandwidth of the instrument',
    options: [
      ['enough', 'as given'],
      ['free', 'to be found'],
    ],
    chosen: chosen.bandwidth,
    onChoose: (bandwidth) => onChange({ bandwidth }),
  }),
  radioChoice({
    title: 'Which way round',
    options: [
      ['either', 'to be found'],
      ['as-predicted', 'as predicted'],
      ['reversed', 'the other way'],
    ],
    chosen: chosen.polarity,
    onChoose: (polarity) => onChange({ polarity }),
  }),
  radioChoice({
    title: 'Taken of',
    options: [
      ['build', 'the build'],
      ['healthy', 'a healthy one, to compare with'],
    ],
    chosen: chosen.healthy ? 'healthy' : 'build',
    onChoose: (of) => onChange({ healthy: of === 'healthy' }),
  }),
];

function sideField(
  side: 'row' | 'column',
  label: string,
  { chosen, design: { mat, selected }, onChange }: ConditionsOptions,
): TemplateResult {
  const most = side === 'row' ? mat.rows : mat.columns;
  const read = (input: HTMLInputElement): void => {
    const value = Math.round(Number(input.value));
    const inside = input.value !== '' && value >= 0 && value < most;
    onChange({ [side]: inside ? value : undefined });
    if (!inside) input.value = '';
  };
  return html`<div class="field narrow">
    <label for="bench-${side}">${label}</label>
    <input
      id="bench-${side}"
      type="number"
      min="0"
      max=${most - 1}
      placeholder=${selected[side]}
      .value=${String(chosen[side] ?? '')}
      @change=${(event: Event) => read(event.currentTarget as HTMLInputElement)}
    />
  </div>`;
}

const writeSelect = ({ chosen, onChange }: ConditionsOptions): TemplateResult =>
  html`<div class="field bench-name">
    <label for="bench-write">Then written</label>
    <select
      id="bench-write"
      @change=${(event: Event) =>
        onChange({ write: (event.currentTarget as HTMLSelectElement).value as WriteAfter })}
    >
      ${Object.entries(WRITE_WORDS).map(
        ([value, text]) => html`<option value=${value} .selected=${value === chosen.write}>${text}</option>`,
      )}
    </select>
  </div>`;

function currentField({ chosen, design, currentFault, onCurrent }: ConditionsOptions): TemplateResult {
  const { x, y } = design.drive;
  const given = x.source.kind !== 'current' || y.source.kind !== 'current';
  return html`<div class="field bench-current">
    <label for="bench-current">Read current of X and Y</label>
    <input
      id="bench-current"
      type="text"
      autocomplete="off"
      aria-describedby="bench-current-error"
      aria-invalid=${String(currentFault !== undefined)}
      placeholder=${given ? 'as the voltage gives' : 'as the design says'}
      ?disabled=${given}
      .value=${chosen.readCurrent}
      @change=${(event: Event) => onCurrent((event.currentTarget as HTMLInputElement).value.trim())}
    />
    ${fieldError(
      'bench-current-error',
      currentFault &&
        `The read current must be a current with its unit, but it ${currentFault}: write it like 340 mA.`,
    )}
  </div>`;
}
