import { effect } from '@preact/signals-core';
import { html } from 'lit-html';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Region } from '../../state/page.ts';
import { phaseAt } from '../../model/clock-marks.ts';
import { mediaSignal } from '../../ui/media.ts';
import './clock.css';

/** s of the cycle in each second. */
const PACES = [5e-9, 20e-9, 100e-9];

/** The one clock of the page: play, step, pace, and where it stands. */
export const clockBar: Region = ({ atoms, now, act }) => {
  const still = mediaSignal('(prefers-reduced-motion: reduce)');
  const hold = (): void => {
    atoms.playing.value = false;
  };
  let last = 0;
  const tick = (at: number): void => {
    if (!atoms.playing.value) return;
    const next = now.instant.value + (atoms.pace.value * (at - last)) / 1000;
    last = at;
    if (next >= now.span.value.to) {
      act.setInstant(now.span.value.from);
      hold();
    } else {
      act.setInstant(next);
      requestAnimationFrame(tick);
    }
  };
  effect(() => {
    if (still.value) hold();
    if (!atoms.playing.value) return;
    last = performance.now();
    requestAnimationFrame(tick);
  });
  return () => {
    const { from, to } = now.span.value;
    const at = now.instant.value;
    const text = formatQuantity(at, 's', 4);
    const playing = atoms.playing.value;
    const old = now.runIsOld.value;
    const phase =
      atoms.instant.value === undefined && now.shownStrobe.value
        ? 'at the strobe'
        : phaseAt(now.marks.value, at);
    return html`
      <span class="clock-title">Instant</span>
      <button
        type="button"
        class="play"
        ?hidden=${still.value}
        @click=${() => {
          atoms.playing.value = !playing;
        }}
      >
        ${playing ? 'Hold' : '▶ Play'}
      </button>
      <button type="button" aria-label="Mark before" class="wide-only" @click=${() => act.toMark(-1)}>
        |◂
      </button>
      <button type="button" aria-label="Step back" @click=${() => act.stepInstant(-1)}>◂</button>
      <button type="button" aria-label="Step on" @click=${() => act.stepInstant(1)}>▸</button>
      <button type="button" aria-label="Next mark" class="wide-only" @click=${() => act.toMark(1)}>▸|</button>
      <input
        type="range"
        aria-label="Instant"
        aria-valuetext="${text}, ${phase}"
        min=${from}
        max=${to}
        step=${now.inForce.value?.numerics.output ?? 1e-9}
        .value=${String(at)}
        @input=${(event: Event) => act.setInstant(Number((event.target as HTMLInputElement).value))}
      />
      <select
        aria-label="Pace"
        @change=${(event: Event) => {
          atoms.pace.value = Number((event.target as HTMLSelectElement).value);
        }}
      >
        ${PACES.map(
          (pace) =>
            html`<option value=${pace} ?selected=${pace === atoms.pace.value}>
              ${formatQuantity(pace, 's', 3)} a second
            </option>`,
        )}
      </select>
      <output class="clock-caption"
        ><strong>${text}</strong> ${phase}${old ? ', before this change' : ''}</output
      >
    `;
  };
};
