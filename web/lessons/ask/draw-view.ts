import { curveMonotoneX, line } from 'd3';
import { traceChart } from '../../charts/trace-chart.ts';
import { h, put, s } from '../../ui/dom.ts';
import { readerEm, PLOT } from '../plot-size.ts';
import { figureText } from '../words/say.ts';
import type { AskContext, AskView } from './ask.ts';

/** V: a step of the arrow keys, and of the Page keys. */
const STEP = 1e-3;
const LEAP = 10e-3;

/** An empty plot with a point at each instant, to be pulled to where the curve is expected. */
export function drawView({ step, told, words, ask }: AskContext<'draw'>): AskView {
  const values = ask.at.map(() => 0);
  let touched = false;
  const plot = h('div', { class: 'plot learn-plot draw-plot' });
  const span = { low: -ask.most / 3, high: ask.most };
  const limit = (value: number): number => Math.min(span.high, Math.max(span.low, value));

  function build(): void {
    if (plot.clientWidth === 0) return;
    const em = readerEm();
    const chart = traceChart({
      id: `draw-${step.id}`,
      width: Math.min(plot.clientWidth, PLOT.width * em),
      height: PLOT.height * em,
      em,
      name: words.learn.points(told.question),
      time: { from: ask.at[0]!, to: ask.at.at(-1)! },
      value: span,
      quantity: { symbol: 'u', unit: 'V' },
      lines: [],
    });
    const { x, y } = chart.spaces;
    const path = s('path', { class: 'drawn-line', fill: 'none' });
    const curve = line<number>((_, k) => x(ask.at[k]!), y).curve(curveMonotoneX);
    const grips = ask.at.map((time, k) => {
      const grip = s('circle', { class: 'drawn-grip', r: 9 * em, cx: x(time), tabindex: 0, role: 'slider' });
      grip.setAttribute(
        'aria-label',
        words.learn.pointAt(figureText(words, { value: time, unit: 's', digits: 3 })),
      );
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
        grip.setAttribute('aria-valuetext', figureText(words, { value: values[k]!, unit: 'V', digits: 2 }));
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
      const nearest = ask.at.reduce(
        (best, time, k) => (Math.abs(x(time) - across) < Math.abs(x(ask.at[best]!) - across) ? k : best),
        0,
      );
      const pull = (at: PointerEvent): void => set(nearest, y.invert(at.clientY - box.top));
      pull(event);
      grips[nearest]!.focus();
      const ended = new AbortController();
      window.addEventListener('pointermove', pull, { signal: ended.signal });
      for (const name of ['pointerup', 'pointercancel'] as const)
        window.addEventListener(name, () => ended.abort(), { signal: ended.signal });
    });
    show();
    chart.node.append(path, ...grips);
    chart.node.setAttribute('role', 'group');
    put(plot, chart.node);
  }
  // Its width is known only once it stands on the page.
  const seen = new ResizeObserver(() => build());
  seen.observe(plot);

  return {
    node: h(
      'div',
      { class: 'prediction' },
      h('p', {}, told.question),
      plot,
      h('p', { class: 'note small' }, words.learn.pull),
    ),
    given: () => (touched ? { kind: 'draw', values: [...values] } : { missing: words.learn.draw }),
  };
}
