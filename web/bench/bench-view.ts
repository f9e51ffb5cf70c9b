import { signal } from '@preact/signals-core';
import type { Knowledge } from '../../engine/predict/knowledge.ts';
import { h } from '../ui/dom.ts';
import type { Page } from '../state/page.ts';
import type { MeasuredTrace } from '../model/measured-trace.ts';
import { withValueAt, type RawDesign } from '../model/pointer.ts';
import './bench.css';
import { addCapture } from './bench-state.ts';
import { createAheadPanel } from './ahead-panel.ts';
import { createDiagnosePanel } from './diagnose-panel.ts';
import { createFitPanel } from './fit-panel.ts';
import { createJigPanel } from './jig-panel.ts';
import { createJudgePanel } from './judge-panel.ts';
import { createLineUpPanel } from './line-up-panel.ts';
import { createOpenCapture } from './open-capture.ts';
import { createSavedPanel } from './saved-panel.ts';
import { createSeveralPanel } from './several-panel.ts';
import { createSavedWork } from './saved-work.ts';

/** The bench: what was measured, laid over what the planning view's design predicts, and what follows from it. */
export function createBenchView({ atoms, now, act }: Page): HTMLElement {
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
      addCapture(atoms, {
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
        bandwidth: 'enough',
        healthy: false,
        readCurrent: '',
      });
    },
  });
  const keepTrace = (trace: MeasuredTrace): void => {
    atoms.measured.value = trace;
  };
  const fitted = signal<Knowledge | undefined>(undefined);
  const edit = (design: RawDesign): void => act.edit(design);
  return h(
    'div',
    { class: 'bench' },
    h('h1', {}, 'Bench'),
    h(
      'p',
      { class: 'note' },
      'What was measured, beside what the design in the planning view predicts. Captures stay in this browser unless you keep them on the server.',
    ),
    open.node,
    createJudgePanel(atoms, now),
    createLineUpPanel(atoms, now, keepTrace),
    createFitPanel(atoms, now, {
      onUse: edit,
      onPlan: () => toPlan(),
      onFitted: (known) => (fitted.value = known),
    }),
    createAheadPanel(now, fitted, toPlan),
    createDiagnosePanel(atoms, now),
    createJigPanel(atoms, (core) => act.edit(withValueAt(raw(), '/core', core))),
    createSeveralPanel((core) => act.edit(withValueAt(raw(), '/core', core))),
    createSavedPanel(saved, now.raw, { onDesign: edit, onCapture: open.open }),
  );
}
