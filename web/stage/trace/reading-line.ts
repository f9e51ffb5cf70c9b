import { html, nothing, svg, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { keyTarget } from '../../charts/handle.ts';
import { textWidth } from '../../charts/label-width.ts';
import type { Page } from '../../state/page.ts';
import { h } from '../../ui/dom.ts';
import { mount } from '../../ui/mount.ts';
import { laneTimes } from './lane-plan.ts';
import type { LaneReading, ReadLane } from './reading-values.ts';

/**
 * The reading line's flag in one lane, and the lane's one stop for keys: arrows move the line through all lanes,
 * Enter sets the clock, Escape hides it. Drawn by itself, so that the lane's curves stay as they are.
 */
export function createReadingStop(page: Page, title: string, read: ReadLane, top: number): HTMLElement {
  const { atoms, now, act } = page;
  const host = h('div', { class: 'reading-line' });
  const step = () => now.inForce.value?.numerics.output ?? 1e-9;
  const press = (event: KeyboardEvent): void => {
    const { from, to } = now.span.value;
    const time = atoms.reading.value ?? now.instant.value;
    const target = keyTarget(event.key, { value: time, low: from, high: to }, step());
    if (target !== undefined) act.setReading(Math.min(Math.max(target, from), to));
    else if (event.key === 'Enter') act.setInstant(time);
    else if (event.key === 'Escape') act.setReading(undefined);
    else return;
    event.preventDefault();
  };
  mount(host, ({ width, em }) => {
    const span = now.span.value;
    const reading = atoms.reading.value;
    const time = reading ?? now.instant.value;
    const found = read(page, time);
    const nanoseconds = (value: number) => Number((value * 1e9).toFixed(3));
    return html`<div
      class="reading-stop"
      role="slider"
      tabindex="0"
      aria-label="Reading line: ${title}"
      aria-valuemin=${nanoseconds(span.from)}
      aria-valuemax=${nanoseconds(span.to)}
      aria-valuenow=${nanoseconds(time)}
      aria-valuetext=${readingText(time, found)}
      @keydown=${press}
    >
      ${reading !== undefined && found ? flag(reading, found, { width, em, top, x: laneTimes(span, { width, em }).x(reading) }) : nothing}
    </div>`;
  });
  return host;
}

/** "214 ns: least ONE 9.3 mV, greatest ZERO 2.4 mV". */
export function readingText(time: number, found: LaneReading | undefined): string {
  const values = (found?.values ?? []).map(({ name, text }) => `${name} ${text}`).join(', ');
  return `${formatQuantity(time, 's', 5)}: ${found?.old ? 'before this change, ' : ''}${values || 'nothing yet'}`;
}

interface FlagPlace {
  readonly width: number;
  readonly em: number;
  readonly top: number;
  readonly x: number;
}

/** The values beside the line, on its other side where the lane ends. */
function flag(time: number, { values, old }: LaneReading, { width, em, top, x }: FlagPlace): TemplateResult {
  const words = values.map(({ name, text }) => `${name} ${text}`);
  const lines =
    top > 0
      ? [formatQuantity(time, 's', 5), ...(old ? ['before this change'] : []), ...words]
      : [`${old ? 'before: ' : ''}${words.join(' · ')}`];
  const wide = Math.max(...lines.map((line) => 1.04 * textWidth(line, em))) + 14;
  const left = x + 8 + wide <= width ? x + 8 : Math.max(0, x - 8 - wide);
  const row = 16 * em;
  return html`<svg width=${width} height="100%" aria-hidden="true">
    ${svg`<g class="reading-flag" data-old=${String(old)}>
      <rect x=${left} y=${top * em + 1} width=${wide} height=${lines.length * row + 4} rx="3"></rect>
      ${lines.map(
        (line, i) =>
          svg`<text x=${left + 7} y=${top * em + 1 + (i + 0.8) * row} class=${i === 0 && top > 0 ? 'reading-time' : ''}>${line}</text>`,
      )}
    </g>`}
  </svg>`;
}
