import { html, nothing, svg, type TemplateResult } from 'lit-html';
import { live } from 'lit-html/directives/live.js';
import type { ReadingBand, Stretch } from './part-bands.ts';
import type { SliderScale } from './slider-scale.ts';

export interface SliderOptions {
  readonly label: string;
  readonly scale: SliderScale;
  /** SI, of now and of when the card was opened. */
  readonly value: number;
  readonly opened: number;
  readonly text: (value: number) => string;
  /** Undefined: not known for this input, or not yet. */
  readonly band: ReadingBand | undefined;
  /** What the band says, or why there is none. */
  readonly words: string;
  readonly onMove: (value: number) => void;
  readonly onEnd: () => void;
}

/** Width of the picture behind a slider; it is stretched to the slider's own. */
const WIDE = 1000;

/** One input as a slider over the band in which the design still reads: solid at the corners too, dashed as designed. */
export const sliderView = (options: SliderOptions): TemplateResult => {
  const { label, scale, value, opened, text, band, words, onMove, onEnd } = options;
  const x = (of: number): number =>
    (WIDE * Math.min(Math.max(scale.positionOf(of), 0), scale.positions)) / scale.positions;
  const bar = (name: string, y: number, { low, high }: Stretch) =>
    x(high) > x(low) ? svg`<line class=${name} x1=${x(low)} x2=${x(high)} y1=${y} y2=${y}></line>` : nothing;
  const at = Math.round(Math.min(Math.max(scale.positionOf(value), 0), scale.positions));
  return html`
    <div class="slider-row">
      ${stepButton(options, at, -1)}
      <div class="slider">
        <svg viewBox="0 0 ${WIDE} 24" preserveAspectRatio="none" aria-hidden="true">
          ${svg`<line class="slider-track" x1="0" x2=${WIDE} y1="12" y2="12"></line>`}
          ${band?.nominal.map((each) => bar('band-nominal', 2.5, each))}
          ${band?.corners?.map((each) => bar('band-corners', 22, each))}
          ${svg`<line class="slider-opened" x1=${x(opened)} x2=${x(opened)} y1="2" y2="22"></line>`}
        </svg>
        <input
          type="range"
          aria-label="${label}, slider"
          aria-valuetext="${text(value)}; ${words}"
          min="0"
          max=${scale.positions}
          step="1"
          .value=${live(String(at))}
          @input=${(event: Event) => onMove(scale.valueAt(Number((event.target as HTMLInputElement).value)))}
          @change=${onEnd}
        />
      </div>
      ${stepButton(options, at, 1)}
    </div>
    <p class="slider-ends" aria-hidden="true">
      <span>${text(scale.low)}</span><span class="band-words">${words}</span><span>${text(scale.high)}</span>
    </p>
  `;
};

/** For a hand that cannot hit the thumb; keys have the slider's own arrows, so that it is no stop of theirs. */
const stepButton = ({ label, scale, onMove, onEnd }: SliderOptions, at: number, by: 1 | -1): TemplateResult =>
  html`<button
    type="button"
    class="slider-step"
    tabindex="-1"
    aria-label="${label}: a step ${by > 0 ? 'up' : 'down'}"
    ?disabled=${by > 0 ? at >= scale.positions : at <= 0}
    @click=${() => {
      onMove(scale.valueAt(at + by));
      onEnd();
    }}
  >
    ${by > 0 ? '+' : '−'}
  </button>`;
