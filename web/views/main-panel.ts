import { extent, type Samples } from '../chart/decimate.ts';
import { createHandle, type Handle } from '../chart/handle.ts';
import { paddedSpan, type Spaces, type TimeSpan, type ValueSpan } from '../chart/spaces.ts';
import { traceChart } from '../chart/trace-chart.ts';
import { formatQuantity } from '../../engine/index.ts';
import { h, put } from '../dom.ts';
import type { Run } from '../run.ts';
import type { ClickPlaces } from '../state.ts';
import type { StrobeState } from '../strobe-state.ts';
import { causesOf, samplesOf } from '../traces.ts';

export interface MainPanelCallbacks {
  readonly onStrobe: (time: number, gesture: string) => void;
  readonly onThreshold: (volts: number, gesture: string) => void;
  readonly onCursor: (which: 'a' | 'b', time: number) => void;
  readonly onGestureEnd: () => void;
  /** Takes the measured trace out of the panel. */
  readonly onRemoveMeasured: () => void;
}

export interface MainPanelData {
  readonly run: Run;
  readonly strobe: StrobeState;
  readonly span: TimeSpan;
  readonly fit: 'signal' | 'all';
  readonly cursors: { readonly a: number; readonly b: number } | undefined;
  readonly clickPlaces: ClickPlaces;
  /** A capture from the bench, as the detector would hear it. */
  readonly measured: { readonly label: string; readonly samples: Samples } | undefined;
  readonly width: number;
  readonly height: number;
  readonly em: number;
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
  const node = h('div', {}, stack, measured);
  let spaces: Spaces | undefined;
  let data: MainPanelData | undefined;

  const timeAt = (event: PointerEvent) => spaces!.x.invert(event.clientX - plot.getBoundingClientRect().left);
  const valueAt = (event: PointerEvent) => spaces!.y.invert(event.clientY - plot.getBoundingClientRect().top);
  const step = () => data?.run.design.numerics.output ?? 1e-9;
  const voltStep = () => thresholdStep(data?.run);
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
      placeHandles(handles, next, chart.spaces);
      nameMeasured(next.measured?.label);
      return chart.node;
    },
  };
}

/** A hundredth of a round step near a hundredth of the threshold: 0.1 mV for thresholds of 10 to 100 mV. */
export function thresholdStep(run: Run | undefined): number {
  const size = Math.max(Math.abs(run?.design.detector.threshold ?? 0.02), 1e-4);
  return 10 ** (Math.floor(Math.log10(size)) - 2);
}

function drawMain(data: MainPanelData) {
  const { run, strobe, span, width, height, em } = data;
  const { envelope } = strobe;
  const samples = (values: Float64Array) => samplesOf(run, values);
  const uncertain = run.ensemble?.uncertainties.threshold ?? 0;
  const middle = strobe.here ? (strobe.here.start + strobe.here.end) / 2 : strobe.time;
  return traceChart({
    id: 'main',
    width,
    height,
    em,
    name: 'ONE and ZERO against time, with the strobe window and the threshold',
    time: span,
    value: mainValueSpan(data),
    quantity: { symbol: 'u', unit: 'V' },
    bands: [
      { style: 'one', low: samples(envelope.one), high: samples(envelope.oneHigh) },
      { style: 'zero', low: samples(envelope.zeroLow), high: samples(envelope.zero) },
    ],
    lines: [
      { style: 'one', samples: samples(envelope.one) },
      { style: 'zero', samples: samples(envelope.zero) },
      ...(data.measured ? [{ style: 'measured' as const, samples: data.measured.samples }] : []),
    ],
    strobeZones: strobe.intervals.map(({ start, end }) => ({ from: start, to: end })),
    thresholdZone: { low: strobe.level - uncertain, high: strobe.level + uncertain },
    strobe: strobe.time,
    threshold: strobe.level,
    cursors: data.cursors
      ? [
          { time: data.cursors.a, letter: 'A' },
          { time: data.cursors.b, letter: 'B' },
        ]
      : [],
    labels: [
      { text: 'ONE, least', samples: samples(envelope.one), side: 'above', near: middle },
      { text: 'ZERO, greatest', samples: samples(envelope.zero), side: 'below', near: middle },
    ],
  });
}

/** Room for the signal: 1.6 times what the selected core gives, whatever the spikes beside it; or everything in view. */
export function mainValueSpan(data: Pick<MainPanelData, 'run' | 'strobe' | 'span' | 'fit'>): ValueSpan {
  const { run, strobe, span, fit } = data;
  const all = [strobe.envelope.oneHigh, strobe.envelope.zeroLow, strobe.envelope.zero].map((values) =>
    extent(samplesOf(run, values), span.from, span.to),
  );
  const low = Math.min(...all.map((pair) => pair?.[0] ?? 0));
  const high = Math.max(...all.map((pair) => pair?.[1] ?? 0));
  if (fit === 'all') return paddedSpan(low, Math.max(high, strobe.level));
  const bell = extent(samplesOf(run, causesOf(run, 1).selected), 0, run.design.cycle.readWidth);
  const peak = Math.max(Math.abs(bell?.[0] ?? 0), bell?.[1] ?? 0, 1e-4);
  const size = Math.max(peak, strobe.level / 1.45);
  return paddedSpan(Math.min(-0.12 * size, Math.max(low, -0.9 * size)), Math.min(high, 1.6 * size));
}

function placeHandles(
  handles: Record<'strobe' | 'threshold' | 'a' | 'b', Handle>,
  data: MainPanelData,
  spaces: Spaces,
): void {
  const { margins, width, height } = spaces;
  const { strobe, span, run, cursors } = data;
  const cycleEnd = run.one.time.at(-1) ?? 0;
  // Out of view, a grip waits at the edge, where keys and pointer still find it.
  const held = (time: number) => Math.min(Math.max(time, span.from), span.to);
  const lower = height - margins.bottom;
  handles.strobe.update({
    value: strobe.time,
    low: 0,
    high: cycleEnd,
    text: `${formatQuantity(strobe.time, 's', 5)}, margin ${formatQuantity(Math.min(strobe.margin.one, strobe.margin.zero), 'V', 3)}`,
    x: spaces.x(held(strobe.time)),
    y: lower,
    hidden: false,
  });
  const [low, high] = spaces.y.domain() as [number, number];
  handles.threshold.update({
    value: strobe.level,
    low,
    high,
    text: `${formatQuantity(strobe.level, 'V', 4)}, margin ONE ${formatQuantity(strobe.margin.one, 'V', 3)}, margin ZERO ${formatQuantity(strobe.margin.zero, 'V', 3)}`,
    x: width - margins.right,
    y: spaces.y(Math.min(Math.max(strobe.level, low), high)),
    hidden: false,
  });
  for (const which of ['a', 'b'] as const) {
    const time = cursors?.[which] ?? 0;
    handles[which].update({
      value: time,
      low: 0,
      high: cycleEnd,
      text: formatQuantity(time, 's', 5),
      x: spaces.x(held(time)),
      y: margins.top,
      hidden: !cursors,
    });
  }
}
