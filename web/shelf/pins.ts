import { html, nothing, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';
import { strobeStateAt, type StrobeState } from '../model/strobe-state.ts';
import { ladders } from '../stage/trace/scale-ladder.ts';
import { MAX_PINS } from '../state/atoms.ts';
import type { Page } from '../state/page.ts';
import { iconView } from '../ui/icon-view.ts';
import type { Box, View } from '../ui/mount.ts';
import { inputTable } from './pin-inputs.ts';
import { createPinTrace } from './pin-trace.ts';

/** px of a card's trace. */
const CARD = 300;

interface Shown {
  readonly name: string;
  readonly raw: RawDesign;
  readonly run: Run;
  readonly strobe: StrobeState;
}

/** Up to four designs beside the one on the stage: on its span, scale and reading line, and only the inputs that differ. */
export function createPins(page: Page): (box: Box) => View {
  const { atoms, now, act } = page;
  const draws = Array.from({ length: MAX_PINS + 1 }, createPinTrace);
  const axis = ladders(page);
  return ({ width, em }) => {
    const [run, strobe] = [now.judged.value, now.strobe.value];
    const pins = atoms.pins.value.flatMap((pin) => {
      const { strobe: at, detector } = pin.run.design;
      const state = strobeStateAt(pin.run, at.time, detector.threshold);
      return state ? [{ ...pin, strobe: state }] : [];
    });
    const here = run && strobe ? { name: 'On the stage', raw: now.raw.value, run, strobe } : undefined;
    const shown: readonly Shown[] = [...(here ? [here] : []), ...pins];
    const old = now.judgedIsOld.value;
    const value = here && axis.latch.value;
    const trace = (item: Shown, index: number) =>
      value &&
      draws[index]!({
        id: `pin-${index}`,
        ...item,
        span: now.span.value,
        value,
        reading: atoms.reading.value,
        width: Math.max(200, Math.min(CARD * em, width - 80 * em)),
        em,
      });
    const first = here ? 1 : 0;
    return html`<section class="pins">
      <div class="panel-head">
        <p class="note">
          ${pins.length === 0 ? `Up to ${MAX_PINS} designs stand beside this one, with only the inputs that differ.` : 'On the span, scale and reading line of the stage.'}
        </p>
        <button type="button" ?disabled=${pins.length >= MAX_PINS || !here} @click=${() => act.pin()}>
          Pin this run
        </button>
      </div>
      ${
        pins.length === 0
          ? nothing
          : html`<div class="pin-cards">
                ${here ? card(html`<h3>${here.name}</h3>`, here, trace(here, 0), old, nothing) : nothing}
                ${pins.map((pin, i) => card(nameBox(i, pin.name, act.renamePin), pin, trace(pin, i + first), false, buttons(i, old, act)))}
              </div>
              ${inputTable(shown)}`
      }
    </section>`;
  };
}

const nameBox = (index: number, name: string, rename: Page['act']['renamePin']): TemplateResult =>
  html`<input
    type="text"
    aria-label="Name of pinned design ${index + 1}"
    .value=${name}
    @change=${(event: Event) => rename(index, (event.currentTarget as HTMLInputElement).value.trim())}
  />`;

const buttons = (index: number, old: boolean, act: Page['act']): TemplateResult =>
  html`<p class="button-row">
    <button
      type="button"
      ?disabled=${old}
      aria-label="Swap pinned design ${index + 1} with the one on the stage"
      @click=${() => act.swapPin(index)}
    >
      Swap
    </button>
    <button type="button" aria-label="Remove pinned design ${index + 1}" @click=${() => act.unpin(index)}>
      Remove
    </button>
  </p>`;

const card = (
  title: TemplateResult,
  { strobe }: Shown,
  trace: SVGSVGElement | undefined,
  old: boolean,
  below: TemplateResult | typeof nothing,
): TemplateResult => html`
  <article class="pin-card ${old ? 'old' : ''}">
    ${title} ${old ? html`<span class="small">${iconView('stale')}before this change</span>` : nothing}
    ${trace}
    <p class="small">${marginOf(strobe, 'nominal', 'as designed')}</p>
    <p class="small">${marginOf(strobe, 'corners', 'at the corners')}</p>
    <p class="small">
      strobe ${formatQuantity(strobe.time, 's', 4)},
      ${strobe.here ? `window ${formatQuantity(strobe.here.end - strobe.here.start, 's', 3)}` : 'in no window'}
    </p>
    ${below}
  </article>
`;

const SIGNS = { reads: 'ok', short: 'warning', fails: 'error' } as const;

function marginOf(
  { margin, corners, verdict }: StrobeState,
  set: 'nominal' | 'corners',
  where: string,
): TemplateResult {
  const left = set === 'nominal' ? margin.left : corners?.margin.left;
  const judged = verdict.sets[set];
  if (left === undefined || !judged) return html`${iconView('busy')}${where}: not known`;
  const sign = SIGNS[judged.verdict];
  return html`<span class="status-${sign}"
      >${iconView(sign)}<strong>${formatQuantity(left, 'V', 3)} left</strong></span
    >
    ${where}`;
}
