import { h, put } from '../../ui/dom.ts';
import { plotSize } from '../plot-size.ts';
import { chartNotes, resultChart } from '../result-chart.ts';
import type { StepResult } from '../step.ts';
import { figureText } from '../words/say.ts';
import type { AskContext, AskView } from './ask.ts';

/** s: a step of the arrow keys, and where the line stands at first. */
const STEP = 1e-9;
const START = 20e-9;

/** The traces without their window, and a line to be put where the latch should look. */
export function placeView(context: AskContext<'place'>): AskView {
  const { step, told, words, result } = context;
  const { learn } = words;
  const id = `answer-${step.id}`;
  let time: number | undefined;
  let found: StepResult | undefined;
  const plot = h('div', { class: 'plot learn-plot' });
  const slider = h('input', {
    id,
    class: 'place-slider',
    type: 'range',
    min: 0,
    step: 1,
    value: Math.round(START / STEP),
    input: () => moveTo(Number(slider.value) * STEP),
  });
  const shown = h('output', { for: id });
  const notes = h('div', {});
  const way = h('p', { class: 'note small hand-only' }, learn.moveLine);
  const holder = h('div', { class: 'place-answer', hidden: true }, plot, notes, slider, shown, way);
  const said = h('span', { class: 'note', role: 'status' });
  const start = h(
    'button',
    { type: 'button', class: 'show-lines', click: () => void open() },
    learn.showLines,
  );

  async function open(): Promise<void> {
    said.textContent = learn.computing;
    try {
      found = await result();
    } catch (error) {
      said.textContent = learn.failed((error as Error).message);
      return;
    }
    said.textContent = '';
    start.hidden = true;
    holder.hidden = false;
    put(notes, ...chartNotes(context, found));
    slider.max = String(Math.round(found.span[1] / STEP));
    moveTo(START);
    slider.focus();
  }
  function moveTo(at: number): void {
    if (!found) return;
    time = at;
    const text = figureText(words, { value: at, unit: 's', digits: 3 });
    slider.setAttribute('aria-valuetext', text);
    shown.textContent = text;
    const { place, ...rest } = found;
    const bare = { ...rest, ...(place && { place: { ...place, strobe: at, strobeZones: [] } }) };
    const chart = resultChart(context, bare, id, told.title, plotSize(holder));
    chart.node.addEventListener('pointerdown', (event) =>
      follow(event, chart.spaces.x.invert.bind(chart.spaces.x)),
    );
    put(plot, chart.node);
  }
  /** Until the pointer is lifted; the plot is drawn anew under it, so the window listens. */
  function follow(event: PointerEvent, timeOf: (x: number) => number): void {
    const left = plot.getBoundingClientRect().left;
    const pull = ({ clientX }: PointerEvent): void => {
      const at = Math.min(Number(slider.max) * STEP, Math.max(0, timeOf(clientX - left)));
      slider.value = String(Math.round(at / STEP));
      moveTo(Number(slider.value) * STEP);
    };
    event.preventDefault();
    pull(event);
    const ended = new AbortController();
    window.addEventListener('pointermove', pull, { signal: ended.signal });
    for (const name of ['pointerup', 'pointercancel'] as const)
      window.addEventListener(name, () => ended.abort(), { signal: ended.signal });
  }

  return {
    node: h(
      'div',
      { class: 'prediction' },
      h('label', { class: 'question', for: id }, told.question),
      start,
      said,
      holder,
    ),
    given: () => (time === undefined ? { missing: learn.place } : { kind: 'place', time }),
  };
}
