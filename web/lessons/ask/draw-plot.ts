import { curveMonotoneX, line } from 'd3';
import { traceChart } from '../../charts/trace-chart.ts';
import { h, put, s } from '../../ui/dom.ts';
import { PLOT, readerEm } from '../plot-size.ts';
import { inLanguage } from '../result-chart.ts';
import { quantityText } from '../words/say.ts';
import type { Words } from '../words/shape.ts';

/** V: a step of the arrow keys, and of the Page keys. */
const STEP = 1e-3;
const LEAP = 10e-3;

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

/** An empty plot with a point at each instant, to be pulled to where a curve is expected, by pointer or keys. */
export function createDrawPlot({ id, name, words, at, most }: DrawPlotOptions): DrawPlot {
  const values = at.map(() => 0);
  let touched = false;
  const plot = h('div', { class: 'plot learn-plot draw-plot' });
  const span = { low: -most / 3, high: most };
  const limit = (value: number): number => Math.min(span.high, Math.max(span.low, value));

  function build(): void {
    if (plot.clientWidth === 0) return;
    const em = readerEm();
    const chart = traceChart({
      id: `draw-${id}`,
      width: Math.min(plot.clientWidth, PLOT.width * em),
      height: PLOT.height * em,
      em,
      name,
      time: { from: at[0]!, to: at.at(-1)! },
      value: span,
      quantity: { symbol: 'u', unit: 'V' },
      lines: [],
    });
    inLanguage(words, chart.node);
    const { x, y } = chart.spaces;
    const path = s('path', { class: 'drawn-line', fill: 'none' });
    const curve = line<number>((_, k) => x(at[k]!), y).curve(curveMonotoneX);
    const grips = at.map((time, k) => {
      const grip = s('circle', { class: 'drawn-grip', r: 9 * em, cx: x(time), tabindex: 0, role: 'slider' });
      grip.setAttribute('aria-label', words.learn.pointAt(quantityText(words, time, 's', 3)));
      grip.setAttribute('aria-valuemin', String(span.low * 1e3));
      grip.setAttribute('aria-valuemax', String(span.high * 1e3));
      grip.addEventListener('keydown', (event) => byKey(event, k));
      return grip;
    });
    const show = (): void => {
      path.setAttribute('d', curve(values) ?? '');
      grips.forEach((grip, k) => {
        grip.setAttribute('cy', String(y(values[k]!)));
        grip.setAttribute('aria-valuenow', String(Math.round(values[k]! * 1e3)));
        grip.setAttribute('aria-valuetext', quantityText(words, values[k]!, 'V', 2));
      });
    };
    const set = (k: number, value: number): void => {
      touched = true;
      values[k] = limit(value);
      show();
    };
    const byKey = (event: KeyboardEvent, k: number): void => {
      const by = { ArrowUp: STEP, ArrowDown: -STEP, PageUp: LEAP, PageDown: -LEAP }[event.key];
      if (by === undefined) return;
      event.preventDefault();
      set(k, values[k]! + by);
    };
    chart.node.addEventListener('pointerdown', (event) => {
      event.preventDefault();
      const box = chart.node.getBoundingClientRect();
      const across = event.clientX - box.left;
      const nearest = at.reduce(
        (best, time, k) => (Math.abs(x(time) - across) < Math.abs(x(at[best]!) - across) ? k : best),
        0,
      );
      const pull = (to: PointerEvent): void => set(nearest, y.invert(to.clientY - box.top));
      pull(event);
      grips[nearest]!.focus();
      const ended = new AbortController();
      window.addEventListener('pointermove', pull, { signal: ended.signal });
      for (const kind of ['pointerup', 'pointercancel'] as const)
        window.addEventListener(kind, () => ended.abort(), { signal: ended.signal });
    });
    show();
    chart.node.append(path, ...grips);
    chart.node.setAttribute('role', 'group');
    put(plot, chart.node);
  }
  // Its width is known only once it stands on the page.
  new ResizeObserver(() => build()).observe(plot);
  return { node: plot, values: () => (touched ? [...values] : undefined) };
}
