import { curveMonotoneX, line } from 'd3';
import type { TraceChart } from '../../charts/trace-chart.ts';
import { h, put, s } from '../../ui/dom.ts';
import { PLOT, readerEm } from '../plot-size.ts';
import { quantityText } from '../words/say.ts';
import type { Words } from '../words/shape.ts';
import { createDrawControls } from './draw-controls.ts';
import { emptyChart } from './empty-chart.ts';
import { nearestPoint, strokeAcross, type Spot } from './stroke.ts';

/** V: a step of the arrow keys, and of the Page keys. */
const STEP = 1e-3;
const LEAP = 10e-3;
/** px at a text size of 16: a pointer that stays within this to either side pulls one point, else it draws. */
const STILL = 8;

export interface DrawPlotOptions {
  /** Unique on the page. */
  readonly id: string;
  /** Accessible name of the plot. */
  readonly name: string;
  readonly words: Words;
  /** s: where the points stand. */
  readonly at: readonly number[];
  /** V: the height of the empty plot; it goes down to a third of that below zero. */
  readonly most: number;
}

export interface DrawPlot {
  readonly node: HTMLElement;
  /** V at each point; undefined until one of them was moved. */
  readonly values: () => readonly number[] | undefined;
}

/**
 * An empty plot to draw on: a pointer draws across it, wherever it is set down, or pulls the point nearest to it; each
 * point is also reached by keys and by the controls below, where none is too small for a finger.
 */
export function createDrawPlot({ id, name, words, at, most }: DrawPlotOptions): DrawPlot {
  let values: readonly number[] = at.map(() => 0);
  let touched = false;
  let chosen = 0;
  let show = (): void => undefined;
  const plot = h('div', { class: 'plot learn-plot draw-plot' });
  const span = { low: -most / 3, high: most };
  const limit = (value: number): number => Math.min(span.high, Math.max(span.low, value));
  const draw = (next: readonly number[], point: number): void => {
    touched = true;
    values = next.map(limit);
    chosen = point;
    show();
  };
  const setOne = (point: number, value: number): void =>
    draw(
      values.map((each, k) => (k === point ? value : each)),
      point,
    );
  const controls = createDrawControls({
    id,
    words,
    at,
    span,
    step: STEP,
    onPick: (point) => {
      chosen = point;
      show();
    },
    onHeight: setOne,
  });

  /** Until the pointer is lifted. */
  function follow(event: PointerEvent, { node, spaces: { x, y } }: TraceChart, em: number): void {
    event.preventDefault();
    const box = node.getBoundingClientRect();
    const spotOf = ({ clientX, clientY }: PointerEvent): Spot => ({
      time: x.invert(clientX - box.left),
      value: y.invert(clientY - box.top),
    });
    let last = spotOf(event);
    let drawing = false;
    const point = nearestPoint(at, last.time);
    setOne(point, last.value);
    grips[point]!.focus();
    const move = (to: PointerEvent): void => {
      const now = spotOf(to);
      drawing ||= Math.abs(to.clientX - event.clientX) > STILL * em;
      if (drawing) draw(strokeAcross(at, values, last, now), nearestPoint(at, now.time));
      else setOne(point, now.value);
      if (drawing) last = now;
    };
    const ended = new AbortController();
    window.addEventListener('pointermove', move, { signal: ended.signal });
    for (const kind of ['pointerup', 'pointercancel'] as const)
      window.addEventListener(kind, () => ended.abort(), { signal: ended.signal });
  }

  function byKey(event: KeyboardEvent, point: number): void {
    const by = { ArrowUp: STEP, ArrowDown: -STEP, PageUp: LEAP, PageDown: -LEAP }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    setOne(point, values[point]! + by);
  }

  let grips: readonly SVGCircleElement[] = [];
  function build(): void {
    if (plot.clientWidth === 0) return;
    const em = readerEm();
    const tall = parseFloat(getComputedStyle(plot).getPropertyValue('--draw-height')) || PLOT.height;
    const size = { width: Math.min(plot.clientWidth, PLOT.width * em), height: tall * em, em };
    const chart = emptyChart(words, { id, name, at, span }, size);
    const { x, y } = chart.spaces;
    const path = s('path', { class: 'drawn-line', fill: 'none' });
    const curve = line<number>((_, k) => x(at[k]!), y).curve(curveMonotoneX);
    grips = at.map((time, k) => {
      const grip = s('circle', { class: 'drawn-grip', r: 9 * em, cx: x(time), tabindex: 0, role: 'slider' });
      grip.setAttribute('aria-label', words.learn.pointAt(quantityText(words, time, 's', 3)));
      grip.setAttribute('aria-valuemin', String(span.low * 1e3));
      grip.setAttribute('aria-valuemax', String(span.high * 1e3));
      grip.addEventListener('keydown', (event) => byKey(event, k));
      return grip;
    });
    show = () => {
      path.setAttribute('d', curve(values) ?? '');
      grips.forEach((grip, k) => {
        grip.setAttribute('cy', String(y(values[k]!)));
        grip.setAttribute('aria-valuenow', String(Math.round(values[k]! * 1e3)));
        grip.setAttribute('aria-valuetext', quantityText(words, values[k]!, 'V', 2));
        grip.classList.toggle('chosen', k === chosen);
      });
      controls.show(chosen, values[chosen]!);
    };
    chart.node.addEventListener('pointerdown', (event) => follow(event, chart, em));
    show();
    chart.node.append(path, ...grips);
    chart.node.setAttribute('role', 'group');
    put(plot, chart.node);
  }
  // Its width is known only once it stands on the page.
  new ResizeObserver(() => build()).observe(plot);
  return {
    node: h('div', { class: 'drawing' }, plot, controls.node),
    values: () => (touched ? values : undefined),
  };
}
