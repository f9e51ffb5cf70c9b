import type { Spaces } from '../../charts/spaces.ts';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { judgedUntil } from '../../model/envelopes.ts';
import { h, put } from '../../ui/dom.ts';
import { createGrips, placeGrips } from './grips.ts';
import { createBracketGrip } from './margin-bracket.ts';
import { createMainChart } from './main-chart.ts';
import type { MainPanelCallbacks, MainPanelData } from './main-data.ts';
import { cutOff } from './signal-scale.ts';

export interface MainPanel {
  readonly node: HTMLElement;
  /** Returns the chart as drawn. */
  update(data: MainPanelData): SVGSVGElement;
}

/** ONE and ZERO with their bands, the strobe window and the threshold, and the grips that move them. */
export function createMainPanel(callbacks: MainPanelCallbacks): MainPanel {
  const plot = h('div', { class: 'plot' });
  const stack = h('div', { class: 'plot-stack' }, plot);
  const measured = h('div', { class: 'button-row measured-row', hidden: true });
  const note = h('p', { class: 'fresh-note', hidden: true });
  const clipped = h('button', {
    type: 'button',
    class: 'clipped',
    hidden: true,
    click: () => callbacks.onScale(clippedAt),
  });
  let clippedAt = 0;
  const follow = h('button', { type: 'button', hidden: true, click: callbacks.onFollow }, 'Follow best');
  stack.append(h('div', { class: 'signal-tools' }, note, follow, clipped));
  const node = h('div', {}, stack, measured);
  let spaces: Spaces | undefined;
  let data: MainPanelData | undefined;

  const timeAt = (event: PointerEvent) => spaces!.x.invert(event.clientX - plot.getBoundingClientRect().left);
  const valueAt = (event: PointerEvent) => spaces!.y.invert(event.clientY - plot.getBoundingClientRect().top);
  const grips = createGrips(callbacks, { timeAt, valueAt, data: () => data });
  const bracket = createBracketGrip(callbacks, { time: timeAt, value: valueAt });
  stack.append(bracket.node);
  for (const grip of Object.values(grips)) stack.append(grip.node);

  const draw = createMainChart();
  let named: string | undefined;
  const nameMeasured = (label: string | undefined): void => {
    if (label === named) return;
    named = label;
    measured.hidden = label === undefined;
    put(
      measured,
      h('span', { class: 'small' }, `Measured, thin: ${label ?? ''}, through this amplifier`),
      h('button', { type: 'button', click: callbacks.onRemoveMeasured }, 'Take it out'),
    );
  };

  plot.addEventListener('pointerdown', (event) => {
    if (!data || !spaces) return;
    const { margins, width, height } = spaces;
    const box = plot.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    const inside =
      x >= margins.left && x <= width - margins.right && y >= margins.top && y <= height - margins.bottom;
    if (inside) grips.strobe.dragFrom(event);
  });

  return {
    node,
    update(next) {
      data = next;
      const chart = draw(next);
      spaces = chart.spaces;
      if (plot.firstChild !== chart.node) plot.replaceChildren(chart.node);
      const told = noteOf(next);
      note.hidden = told === undefined;
      put(note, told ?? '');
      follow.hidden = next.follows;
      const { fresh, judged, span, value } = next;
      const top = fresh || !judged ? undefined : cutOff(judged, span, value);
      clipped.hidden = top === undefined;
      clippedAt = 1.05 * (top ?? 0);
      put(clipped, `▴ up to ${formatQuantity(top ?? 0, 'V', 3)}`);
      plot.classList.toggle('fresh', next.fresh !== undefined);
      placeGrips(grips, next, chart.spaces);
      bracket.place(chart.spaces, next.fresh ? undefined : next.judged);
      nameMeasured(next.measured?.label);
      return chart.node;
    },
  };
}

function noteOf({ fresh, failed, old, judged, span }: MainPanelData): string | undefined {
  if (fresh) return `This design alone: worst cases ${failed ? 'failed' : 'follow'}.`;
  if (old) return 'Before this change.';
  const until = judged ? judgedUntil(judged.run) : span.to;
  return until < span.to - 4e-9 ? `Worst cases followed to ${formatQuantity(until, 's', 3)}.` : undefined;
}
