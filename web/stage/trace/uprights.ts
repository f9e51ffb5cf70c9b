import { html, nothing, svg } from 'lit-html';
import type { Page } from '../../state/page.ts';
import { h } from '../../ui/dom.ts';
import { mount } from '../../ui/mount.ts';
import { laneTimes } from './lane-plan.ts';

/** px from the foot of the lanes up to their axis. */
const AXIS = 28;
/** px at the head of the lanes that the strobe's flag has to itself. */
const HEAD = 22;

/**
 * What stands at one time in every lane: the strobe as a single line, the clock as a thin double one with a ring to
 * take hold of, the reading line dotted. Drawn by itself over the lanes, which stay as they are.
 */
export function createUprights(page: Page): HTMLElement {
  const { atoms, now, act } = page;
  const host = h('div', { class: 'uprights', 'aria-hidden': 'true' });
  const move = (event: PointerEvent): void => {
    const ring = event.currentTarget as Element;
    if (!ring.hasPointerCapture(event.pointerId)) return;
    const box = host.getBoundingClientRect();
    const em = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
    const { from, to } = now.span.value;
    const time = laneTimes(now.span.value, { width: box.width, em }).time(event.clientX - box.left);
    act.setInstant(Math.min(Math.max(time, from), to));
  };
  const take = (event: PointerEvent): void => {
    event.preventDefault();
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
  };
  mount(host, ({ width, height, em }) => {
    const span = now.span.value;
    const times = laneTimes(span, { width, em });
    const inView = (time: number | undefined): time is number =>
      time !== undefined && time >= span.from && time <= span.to;
    const [strobe, instant, reading] = [now.shownStrobe.value?.time, now.instant.value, atoms.reading.value];
    const foot = height - AXIS * em;
    const upright = (time: number, name: string, beside = 0) =>
      svg`<line class=${name} x1=${times.x(time) + beside} x2=${times.x(time) + beside} y1=${HEAD * em} y2=${foot}></line>`;
    const moved = inView(instant) && atoms.instant.value !== undefined;
    // Before the latch the strobe looks at what came one delay earlier; that lane has a line of its own.
    const through = atoms.heard.value === 'latch' && inView(strobe);
    return html`<svg width=${width} height=${height}>
      ${through ? upright(strobe, 'strobe-line') : nothing}
      ${moved ? [upright(instant, 'clock-line', -1.5), upright(instant, 'clock-line', 1.5)] : nothing}
      ${inView(reading) ? upright(reading, 'reading-dots') : nothing}
      ${
        inView(instant)
          ? svg`<circle class="clock-ring" cx=${times.x(instant)} cy=${foot} r=${7 * em} @pointerdown=${take} @pointermove=${move}></circle>`
          : nothing
      }
    </svg>`;
  });
  return host;
}
