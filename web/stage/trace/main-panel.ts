import { createHandle, type Handle } from '../../charts/handle.ts';
import type { Spaces } from '../../charts/spaces.ts';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { h, put } from '../../ui/dom.ts';
import { thresholdStep } from '../../state/gestures.ts';
import { cutOff, drawMain, type MainChartData } from './main-chart.ts';

export interface MainPanelCallbacks {
  readonly onStrobe: (time: number, gesture: string) => void;
  readonly onThreshold: (volts: number, gesture: string) => void;
  readonly onMark: (which: 'a' | 'b', time: number) => void;
  readonly onGestureEnd: () => void;
  /** V: the reader wants to see so far up. */
  readonly onScale: (volts: number) => void;
  /** Takes the measured trace out of the panel. */
  readonly onRemoveMeasured: () => void;
}

export interface MainPanelData extends MainChartData {
  /** s, the design's output step. */
  readonly step: number;
  /** The worst cases of the fresh reads could not be computed. */
  readonly failed: boolean;
}

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
  stack.append(note, clipped);
  const node = h('div', {}, stack, measured);
  let spaces: Spaces | undefined;
  let data: MainPanelData | undefined;

  const timeAt = (event: PointerEvent) => spaces!.x.invert(event.clientX - plot.getBoundingClientRect().left);
  const valueAt = (event: PointerEvent) => spaces!.y.invert(event.clientY - plot.getBoundingClientRect().top);
  const step = () => data?.step ?? 1e-9;
  const voltStep = () => thresholdStep(data?.judged?.run.design.detector.threshold);
  const onTime = (place: 'a' | 'b') => (time: number) => callbacks.onMark(place, time);
  const handles: Record<'strobe' | 'threshold' | 'a' | 'b', Handle> = {
    strobe: createHandle({
      label: 'Strobe',
      orientation: 'horizontal',
      className: 'handle-strobe',
      valueAt: timeAt,
      step,
      scale: 1e9,
      onMove: callbacks.onStrobe,
      onEnd: callbacks.onGestureEnd,
    }),
    threshold: createHandle({
      label: 'Threshold',
      orientation: 'vertical',
      className: 'handle-threshold',
      valueAt,
      step: voltStep,
      scale: 1e3,
      onMove: callbacks.onThreshold,
      onEnd: callbacks.onGestureEnd,
    }),
    a: createHandle({
      label: 'Mark A',
      orientation: 'horizontal',
      className: 'handle-cursor',
      valueAt: timeAt,
      step,
      scale: 1e9,
      onMove: onTime('a'),
      onEnd: callbacks.onGestureEnd,
    }),
    b: createHandle({
      label: 'Mark B',
      orientation: 'horizontal',
      className: 'handle-cursor',
      valueAt: timeAt,
      step,
      scale: 1e9,
      onMove: onTime('b'),
      onEnd: callbacks.onGestureEnd,
    }),
  };
  for (const handle of Object.values(handles)) stack.append(handle.node);

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
    if (inside) handles.strobe.dragFrom(event);
  });

  return {
    node,
    update(next) {
      data = next;
      const chart = drawMain(next);
      spaces = chart.spaces;
      plot.replaceChildren(chart.node);
      const told = noteOf(next);
      note.hidden = told === undefined;
      put(note, told ?? '');
      const top = cutOff(next);
      clipped.hidden = top === undefined;
      clippedAt = 1.05 * (top ?? 0);
      put(clipped, `▴ up to ${formatQuantity(top ?? 0, 'V', 3)}`);
      plot.classList.toggle('fresh', next.fresh !== undefined);
      placeHandles(handles, next, chart.spaces);
      nameMeasured(next.measured?.label);
      return chart.node;
    },
  };
}

function noteOf({ fresh, failed }: MainPanelData): string | undefined {
  return fresh && `This design alone: worst cases ${failed ? 'failed' : 'follow'}.`;
}

function placeHandles(
  handles: Record<'strobe' | 'threshold' | 'a' | 'b', Handle>,
  data: MainPanelData,
  spaces: Spaces,
): void {
  const { margins, width, height } = spaces;
  const { judged, fresh, span, marks } = data;
  const strobe = judged?.strobe;
  const cycleEnd = (fresh?.design ?? judged!.run.design).cycle.period;
  // Out of view, a grip waits at the edge, where keys and pointer still find it.
  const held = (time: number) => Math.min(Math.max(time, span.from), span.to);
  const lower = height - margins.bottom;
  const time = strobe?.time ?? 0;
  const level = strobe?.level ?? 0;
  const volts = (name: string, value: number) =>
    `${name} ${fresh ? 'being computed' : formatQuantity(value, 'V', 3)}`;
  const { one = 0, zero = 0 } = strobe?.margin ?? {};
  handles.strobe.update({
    value: time,
    low: 0,
    high: cycleEnd,
    text: `${formatQuantity(time, 's', 5)}, ${volts('margin', Math.min(one, zero))}`,
    x: spaces.x(held(time)),
    y: lower,
    hidden: !strobe,
  });
  const [low, high] = spaces.y.domain() as [number, number];
  handles.threshold.update({
    value: level,
    low,
    high,
    text: `${formatQuantity(level, 'V', 4)}, ${volts('margin ONE', one)}, ${volts('margin ZERO', zero)}`,
    x: width - margins.right,
    y: spaces.y(Math.min(Math.max(level, low), high)),
    hidden: !strobe,
  });
  for (const which of ['a', 'b'] as const) {
    const at = marks?.[which === 'a' ? 0 : 1] ?? 0;
    handles[which].update({
      value: at,
      low: 0,
      high: cycleEnd,
      text: formatQuantity(at, 's', 5),
      x: spaces.x(held(at)),
      y: margins.top,
      hidden: !marks,
    });
  }
}
