import { signal } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import { readQuantity } from '../../engine/base/units.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { createWork } from '../compute/work.ts';
import { createFigure } from '../sharing/figure.ts';
import { mount } from '../ui/mount.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState, DesignNow } from './bench-state.ts';
import { explainedChart, explainedData } from './diagnose-chart.ts';
import { diagnoseView, drawable, type Diagnosed } from './diagnose-view.ts';
import { createSection } from './section.ts';

/** Which single fault would give these captures, if any. */
export function createDiagnosePanel(bench: BenchState, now: DesignNow): HTMLElement {
  const work = createWork(createBenchClient());
  const found = signal<Diagnosed | undefined>(undefined);
  /** Place of the explanation drawn. */
  const shown = signal(0);
  /** What is wrong with the strobe as typed. */
  const fault = signal<string | undefined>(undefined);
  const figure = createFigure({ title: 'The capture under one explanation' });

  function look(strobe: HTMLInputElement): void {
    const text = strobe.value.trim();
    const reading = text === '' ? { ok: true as const, value: undefined } : readQuantity(text, 's');
    fault.value = reading.ok ? undefined : reading.why;
    if (!reading.ok) return strobe.focus();
    const [of, captures] = [now.raw.value, bench.captures.value];
    work.ask(
      'diagnose',
      { raw: of, captures, strobeAt: reading.value },
      {
        busy: 'Trying one fault after another.',
        onPiece: ({ done, planned }) => ({
          done,
          planned,
          text: `Trying one fault after another: ${done} of ${planned} done.`,
        }),
        onAnswer: (answer) => {
          shown.value = 0;
          found.value = { answer, of, design: checkDesign(of), captures };
        },
      },
    );
  }

  mount(figure.body, (box) => {
    const explanation = found.value && drawable(found.value.answer)[shown.value];
    if (!found.value || !explanation) return nothing;
    const svg = explainedChart(explanation, box);
    figure.update(() => explainedData(explanation, found.value!.design, svg));
    return html`${svg}`;
  });
  return createSection('bench-fault', 'Which single fault?', () =>
    diagnoseView({
      some: bench.captures.value.length > 0,
      work: work.state.value,
      found: found.value,
      old: found.value?.of !== now.raw.value || found.value.captures !== bench.captures.value,
      shown: shown.value,
      fault: fault.value,
      unable: now.design.value === undefined,
      figure: figure.node,
      onLook: look,
      onShow: (place) => {
        shown.value = place;
      },
      onCancel: () => work.cancel('Cancelled.'),
    }),
  );
}
