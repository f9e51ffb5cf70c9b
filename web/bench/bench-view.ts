import { h } from '../ui/dom.ts';
import { effect } from '@preact/signals-core';
import type { Page } from '../state/page.ts';
import { withValueAt, type RawDesign } from '../model/pointer.ts';
import './bench.css';
import { addCapture } from './bench-state.ts';
import { createDiagnosePanel } from './diagnose-panel.ts';
import { createFitPanel } from './fit-panel.ts';
import { createJigPanel } from './jig-panel.ts';
import { createLargerPanel } from './larger-panel.ts';
import { createLineUpPanel } from './line-up-panel.ts';
import { createOpenCapture } from './open-capture.ts';
import { createSavedPanel } from './saved-panel.ts';
import { createSavedWork } from './saved-work.ts';

/** The bench: what was measured, laid over what the planning view's design predicts, and what follows from it. */
export function createBenchView({ atoms, now, act }: Page): HTMLElement {
  const bench = atoms;
  const raw = (): RawDesign => now.raw.peek();
  const toPlan = (design?: RawDesign): void => {
    if (design) act.open(design);
    act.go({ name: 'plan' });
  };
  const saved = createSavedWork(document.baseURI);
  const open = createOpenCapture({
    onKeep: async (name, content) => {
      const version = await saved.save('captures', name, content);
      return `${name} is kept on the server, version ${version}.`;
    },
    onTake: ({ label, time, value }, sample) => {
      // The design on the page stays when it is the sample's own, or what a fit made of it.
      if (sample && raw()['name'] !== sample.design['name']) act.edit(sample.design);
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
  const lineUp = createLineUpPanel(bench, {
    raw,
    onKeep: (trace) => {
      atoms.measured.value = trace;
    },
  });
  const fit = createFitPanel(bench, { raw, onUse: (design) => act.edit(design), onPlan: () => toPlan() });
  const larger = createLargerPanel({ raw, onOpen: toPlan });
  const diagnose = createDiagnosePanel(bench, raw);
  const jig = createJigPanel(bench, { onUse: (core) => act.edit(withValueAt(raw(), '/core', core)) });
  const kept = createSavedPanel(saved, {
    raw,
    onDesign: (design) => act.edit(design),
    onCapture: (name, content) => open.open(name, content),
  });
  const node = h(
    'div',
    { class: 'bench' },
    h('h1', {}, 'Bench'),
    h(
      'p',
      { class: 'note' },
      'What was measured, beside what the design in the planning view predicts. Captures stay in this browser unless you keep them on the server.',
    ),
    open.node,
    lineUp.node,
    fit.node,
    larger.node,
    diagnose.node,
    jig.node,
    kept.node,
  );

  let due = false;
  const schedule = (): void => {
    if (due) return;
    due = true;
    requestAnimationFrame(() => {
      due = false;
      if (node.hidden || !node.isConnected) return;
      for (const panel of [lineUp, fit, larger, diagnose, jig, kept]) panel.refresh();
    });
  };
  effect(() => {
    for (const each of [atoms.history, atoms.place, atoms.view, atoms.captures, atoms.chosenCapture])
      void each.value;
    schedule();
  });
  let width = 0;
  new ResizeObserver(() => {
    if (node.clientWidth === 0 || node.clientWidth === width) return;
    width = node.clientWidth;
    schedule();
  }).observe(node);
  schedule();
  return node;
}
