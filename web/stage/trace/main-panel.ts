import { createHandle, type Handle } from '../../charts/handle.ts';
import type { Spaces } from '../../charts/spaces.ts';
import { formatQuantity } from '../../../engine/index.ts';
import { h, put } from '../../ui/dom.ts';
import type { Run } from '../../model/run.ts';
import type { ClickPlaces } from '../../state.ts';
import { cutOff, drawMain, type MainChartData } from './main-chart.ts';

export interface MainPanelCallbacks {
  readonly onStrobe: (time: number, gesture: string) => void;
  readonly onThreshold: (volts: number, gesture: string) => void;
  readonly onCursor: (which: 'a' | 'b', time: number) => void;
  readonly onGestureEnd: () => void;
  /** Takes the measured trace out of the panel. */
  readonly onRemoveMeasured: () => void;
}

export interface MainPanelData extends MainChartData {
  /** s, the design's output step. */
  readonly step: number;
  readonly clickPlaces: ClickPlaces;
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
  stack.append(note);
  const node = h('div', {}, stack, measured);
  let spaces: Spaces | undefined;
  let data: MainPanelData | undefined;

  const timeAt = (event: PointerEvent) => spaces!.x.invert(event.clientX - plot.getBoundingClientRect().left);
  const valueAt = (event: PointerEvent) => spaces!.y.invert(event.clientY - plot.getBoundingClientRect().top);
  const step = () => data?.step ?? 1e-9;
  const voltStep = () => thresholdStep(data?.judged?.run);
  const onTime = (place: 'a' | 'b') => (time: number) => callbacks.onCursor(place, time);
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
      label: 'Cursor A',
      orientation: 'horizontal',
      className: 'handle-cursor',
      valueAt: timeAt,
      step,
      scale: 1e9,
      onMove: onTime('a'),
      onEnd: callbacks.onGestureEnd,
    }),
    b: createHandle({
      label: 'Cursor B',
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
    if (inside) handles[data.clickPlaces].dragFrom(event);
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
      plot.classList.toggle('fresh', next.fresh !== undefined);
      placeHandles(handles, next, chart.spaces);
      nameMeasured(next.measured?.label);
      return chart.node;
    },
  };
}

function noteOf(data: MainPanelData): string | undefined {
  if (data.fresh) return `This design alone: worst cases ${data.failed ? 'failed' : 'follow'}.`;
  const top = cutOff(data);
  return top === undefined ? undefined : `cut off: up to ${formatQuantity(top, 'V', 3)}`;
}

/** A hundredth of a round step near a hundredth of the threshold: 0.1 mV for thresholds of 10 to 100 mV. */
export function thresholdStep(run: Run | undefined): number {
  const size = Math.max(Math.abs(run?.design.detector.threshold ?? 0.02), 1e-4);
  return 10 ** (Math.floor(Math.log10(size)) - 2);
}

function placeHandles(
  handles: Record<'strobe' | 'threshold' | 'a' | 'b', Handle>,
  data: MainPanelData,
  spaces: Spaces,
): void {
  const { margins, width, height } = spaces;
  const { judged, fresh, span, cursors } = data;
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
    const at = cursors?.[which] ?? 0;
    handles[which].update({
      value: at,
      low: 0,
      high: cycleEnd,
      text: formatQuantity(at, 's', 5),
      x: spaces.x(held(at)),
      y: margins.top,
      hidden: !cursors,
    });
  }
}
