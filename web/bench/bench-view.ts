import { h } from '../dom.ts';
import { currentRaw, edit, type AppState } from '../state.ts';
import { withValueAt, type RawDesign } from '../pointer.ts';
import './bench.css';
import { addCapture, createBenchState } from './bench-state.ts';
import { createDiagnosePanel } from './diagnose-panel.ts';
import { createFitPanel } from './fit-panel.ts';
import { createJigPanel } from './jig-panel.ts';
import { createLargerPanel } from './larger-panel.ts';
import { createLineUpPanel } from './line-up-panel.ts';
import { createOpenCapture } from './open-capture.ts';

/** The bench: what was measured, laid over what the planning view's design predicts, and what follows from it. */
export function createBenchView(state: AppState): HTMLElement {
  const bench = createBenchState();
  const raw = (): RawDesign => currentRaw(state);
  const toPlan = (design?: RawDesign): void => {
    if (design) edit(state, design);
    state.span.set(undefined);
    state.view.set('plan');
  };
  const open = createOpenCapture({
    onTake: ({ label, time, value }, sample) => {
      // The design on the page stays when it is the sample's own, or what a fit made of it.
      if (sample && raw()['name'] !== sample.design['name']) edit(state, sample.design);
      addCapture(bench, {
        label,
        trace: { time, value },
        observed: 'sense',
        bit: sample?.bit ?? 1,
        row: undefined,
        column: undefined,
        write: 'design',
        part: 'read',
        polarity: 'either',
        probeGain: 'fixed',
        readCurrent: '',
      });
    },
  });
  const lineUp = createLineUpPanel(bench, { raw, onKeep: (trace) => state.measured.set(trace) });
  const fit = createFitPanel(bench, { raw, onUse: (design) => edit(state, design), onPlan: () => toPlan() });
  const larger = createLargerPanel({ raw, onOpen: toPlan });
  const diagnose = createDiagnosePanel(bench, raw);
  const jig = createJigPanel({ onUse: (core) => edit(state, withValueAt(raw(), '/core', core)) });
  const node = h(
    'div',
    { class: 'bench' },
    h('h1', {}, 'Bench'),
    h(
      'p',
      { class: 'note' },
      'What was measured, beside what the design in the planning view predicts. Captures stay in this browser.',
    ),
    open,
    lineUp.node,
    fit.node,
    larger.node,
    diagnose.node,
    jig.node,
  );

  let due = false;
  const schedule = (): void => {
    if (due) return;
    due = true;
    requestAnimationFrame(() => {
      due = false;
      if (node.hidden || !node.isConnected) return;
      for (const panel of [lineUp, fit, larger, diagnose, jig]) panel.refresh();
    });
  };
  for (const value of [state.history, state.view, state.theme, bench.captures, bench.chosen])
    (value as { watch(watcher: () => void): void }).watch(schedule);
  let width = 0;
  new ResizeObserver(() => {
    if (node.clientWidth === 0 || node.clientWidth === width) return;
    width = node.clientWidth;
    schedule();
  }).observe(node);
  schedule();
  return node;
}
