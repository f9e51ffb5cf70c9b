import { h, put } from '../../ui/dom.ts';
import { PLOT, readerEm } from '../plot-size.ts';
import type { Evaluated, Scan } from './evaluated.ts';
import type { OwnAskOptions, OwnAskView } from './own-ask-view.ts';
import { ownChart } from './own-chart.ts';
import { placeText } from './say.ts';
import { quantityText } from '../words/say.ts';

/** A strobe or threshold over the worst cases, or an input by itself. */
export function ownSlide({ w, step, id, evaluated }: OwnAskOptions): OwnAskView {
  const { ask } = step;
  let index: number | undefined;
  const plot = h('div', { class: 'plot learn-plot' });
  const shown = h('output', { for: id });
  const slider = h('input', {
    id,
    class: 'place-slider',
    type: 'range',
    min: 0,
    max: 1,
    step: 1,
    disabled: true,
  });
  const label = ask.kind === 'set' ? `${step.question} ${ask.name}` : step.question;
  const holder = h('div', { class: 'place-answer' }, plot, slider, shown);
  shown.textContent = w.play.busy;

  void evaluated.then((found) => {
    if (!found || found.truth.kind !== 'scan') return put(shown);
    const { truth, shown: picture } = found;
    slider.disabled = false;
    slider.max = String(truth.at.length - 1);
    slider.value = '0';
    slider.addEventListener('input', () => moveTo(Number(slider.value), truth, found));
    tell(0, truth);
    if (ask.kind === 'place') new ResizeObserver(() => paint(truth, picture)).observe(plot);
    if (ask.kind === 'place' && ask.moved === 'strobe') followPointer(truth, found);
  });
  const tell = (at: number, truth: Scan): void => {
    const words = placeText(w, ask, truth, at);
    slider.setAttribute('aria-valuetext', words);
    shown.textContent = words;
  };
  function moveTo(to: number, truth: Scan, { shown: picture }: Evaluated): void {
    index = to;
    tell(to, truth);
    if (ask.kind === 'place') paint(truth, picture);
  }
  function paint(truth: Scan, picture: Evaluated['shown']): void {
    if (holder.clientWidth === 0) return;
    const em = readerEm();
    const place = truth.at[Number(slider.value)]!;
    const strobe = ask.kind === 'place' && ask.moved === 'strobe';
    const chart = ownChart(w, picture, {
      id: `${id}-place`,
      name: `${step.question} ${quantityText(w.course, place, strobe ? 's' : 'V', 3)}`,
      size: { width: Math.min(holder.clientWidth, PLOT.width * em), height: PLOT.height * em, em },
      placed: strobe ? { strobe: place } : { threshold: place },
    });
    across = chart.spaces.x;
    put(plot, chart.node);
  }
  let across: { invert: (px: number) => number } | undefined;
  /** The plot is drawn anew under the pointer, so the window listens until it is lifted. */
  function followPointer(truth: Scan, found: Evaluated): void {
    plot.addEventListener('pointerdown', (event) => {
      const left = plot.getBoundingClientRect().left;
      const pull = ({ clientX }: PointerEvent): void => {
        const time = across?.invert(clientX - left) ?? 0;
        const apart = truth.at[1]! - truth.at[0]!;
        const to = Math.round((time - truth.at[0]!) / apart);
        slider.value = String(Math.min(truth.at.length - 1, Math.max(0, to)));
        moveTo(Number(slider.value), truth, found);
      };
      event.preventDefault();
      pull(event);
      const ended = new AbortController();
      window.addEventListener('pointermove', pull, { signal: ended.signal });
      for (const kind of ['pointerup', 'pointercancel'] as const)
        window.addEventListener(kind, () => ended.abort(), { signal: ended.signal });
    });
  }
  return {
    node: h('div', { class: 'prediction' }, h('label', { for: id }, label), holder),
    given: () => (index === undefined ? { missing: w.play.place } : { kind: 'index', index }),
  };
}
