import { formatQuantity, readQuantity, writeQuantity } from '../../engine/index.ts';
import type { TimeSpan } from '../chart/spaces.ts';
import { panSpan, zoomSpan } from '../chart/spaces.ts';
import { extent, sampleAt } from '../chart/decimate.ts';
import { h, put } from '../dom.ts';
import { currentRaw, edit, finishGesture, type AppState } from '../state.ts';
import { withValueAt } from '../pointer.ts';
import { strobeStateAt, type StrobeState } from '../strobe-state.ts';
import { referredTrace, samplesOf } from '../traces.ts';
import { drawCurrents } from './currents.ts';
import { createKeyInputs } from './key-inputs.ts';
import { createMainPanel } from './main-panel.ts';
import { drawPulses } from './pulses.ts';
import { createReadouts } from './readouts.ts';
import { drawSmallPanels } from './small-panels.ts';
void [extent, sampleAt, put, formatQuantity, readQuantity, referredTrace, samplesOf];

export function createPlanView(state: AppState): HTMLElement {
  const inputs = createKeyInputs({ onEdit: (raw) => edit(state, raw) });
  const readouts = createReadouts();
  const main = createMainPanel({
    onStrobe: (time, gesture) =>
      edit(
        state,
        withValueAt(currentRaw(state), '/strobe/time', writeQuantity(Math.round(time * 1e9) / 1e9, 's')),
        gesture,
      ),
    onThreshold: (volts, gesture) =>
      edit(
        state,
        withValueAt(
          currentRaw(state),
          '/detector/threshold',
          writeQuantity(Math.round(volts * 1e5) / 1e5, 'V'),
        ),
        gesture,
      ),
    onCursor: (which, time) =>
      state.cursors.set({ ...(state.cursors.get() ?? { a: 0, b: 0 }), [which]: time }),
    onGestureEnd: () => finishGesture(state),
  });
  const currents = h('div', { class: 'plot' });
  const pulses = h('div', { class: 'plot' });
  const small = h('div', { class: 'small-panels' });
  const tools = h(
    'div',
    { class: 'tools' },
    h('button', { type: 'button', click: () => zoom(0.5) }, 'Zoom in'),
    h('button', { type: 'button', click: () => zoom(2) }, 'Zoom out'),
    h('button', { type: 'button', click: () => pan(-0.25) }, 'Earlier'),
    h('button', { type: 'button', click: () => pan(0.25) }, 'Later'),
    h('button', { type: 'button', click: () => state.span.set(undefined) }, 'Whole cycle'),
    h(
      'button',
      { type: 'button', click: () => state.fit.set(state.fit.get() === 'all' ? 'signal' : 'all') },
      'Fit',
    ),
  );
  const wide = h(
    'section',
    { class: 'wide-panels' },
    h('h2', {}, 'ONE and ZERO'),
    tools,
    main.node,
    h('h3', {}, 'Detector output'),
    pulses,
    h('h3', {}, 'Drive currents'),
    currents,
  );
  const node = h(
    'main',
    { class: 'plan' },
    inputs.node,
    readouts.node,
    h(
      'div',
      { class: 'panels' },
      wide,
      h('section', { class: 'causes' }, h('h2', {}, 'What the sense wire hears'), small),
    ),
  );
  const whole = (): TimeSpan => ({ from: 0, to: state.run.get()?.one.time.at(-1) ?? 1e-6 });
  const zoom = (factor: number) =>
    state.span.set(zoomSpan(state.span.get() ?? whole(), factor, whole(), 2e-8));
  const pan = (fraction: number) => state.span.set(panSpan(state.span.get() ?? whole(), fraction, whole()));
  function render() {
    const run = state.run.get();
    inputs.update(currentRaw(state), () => '', undefined);
    if (!run) return readouts.update(undefined);
    const raw = currentRaw(state) as { strobe?: { time?: string }; detector?: { threshold?: string } };
    const strobe: StrobeState = strobeStateAt(
      run,
      parseFloat(raw.strobe?.time ?? '260') * 1e-9,
      parseFloat(raw.detector?.threshold ?? '20') * 1e-3,
    );
    readouts.update(strobe);
    const span = state.span.get() ?? whole();
    const em = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
    const width = wide.clientWidth;
    main.update({
      run,
      strobe,
      span,
      fit: state.fit.get(),
      cursors: state.cursors.get(),
      clickPlaces: state.clickPlaces.get(),
      width,
      height: 380 * em,
      em,
    });
    put(currents, drawCurrents({ run, bit: 0, span, strobe: strobe.time, width, height: 150 * em, em }));
    put(pulses, drawPulses({ run, strobe, span, width, em }));
    drawSmallPanels(small, {
      run,
      bit: state.shownBit.get(),
      buildUp: state.buildUp.get(),
      span,
      strobe: strobe.time,
      width: small.clientWidth,
      height: 150 * em,
      em,
    });
  }
  let due = false;
  const schedule = () => {
    if (!due) {
      due = true;
      requestAnimationFrame(() => {
        due = false;
        render();
      });
    }
  };
  for (const value of [
    state.history,
    state.run,
    state.span,
    state.fit,
    state.cursors,
    state.shownBit,
    state.buildUp,
  ])
    value.watch(schedule);
  new ResizeObserver(schedule).observe(node);
  return node;
}
