import { effect, signal, untracked } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import { readQuantity } from '../../engine/base/units.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { createWork } from '../compute/work.ts';
import type { MeasuredTrace } from '../model/measured-trace.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { createFigure } from '../sharing/figure.ts';
import { boxOf, mount } from '../ui/mount.ts';
import { createBenchClient } from './bench-client.ts';
import {
  changeCapture,
  chosenCapture,
  removeCapture,
  type BenchState,
  type DesignNow,
} from './bench-state.ts';
import { comparisonCharts } from './comparison-charts.ts';
import { conditionsView } from './conditions-view.ts';
import { comparisonData, differenceFigure, laidSaid, lineUpView, type LaidCapture } from './line-up-view.ts';
import { createSection } from './section.ts';
import { createTimeLook } from './time-look.ts';

/**
 * The chosen capture over its prediction: how it lies there, what is left, and what that looks like. `onKeep` puts the
 * measured trace into the planning view's main panel.
 */
export function createLineUpPanel(
  bench: BenchState,
  now: DesignNow,
  onKeep: (trace: MeasuredTrace) => void,
): HTMLElement {
  const { work, laid, lay } = createLaying();
  const look = createTimeLook(laid);
  const figure = createFigure({ title: 'Measured over predicted', tools: [look.tools] });
  const conditions = createConditions(bench);

  function keep({ answer, capture }: LaidCapture): void {
    const { time, measured } = answer.comparison;
    const { label, observed } = capture;
    onKeep({ label, time, value: measured, observed });
    work.say({
      sign: 'ok',
      text: `${label} now lies in the main panel of the planning view too; it can be taken out there.`,
    });
  }

  mount(figure.body, ({ width, em }) => {
    if (!laid.value) return nothing;
    const { answer, capture, design } = laid.value;
    const { span, fit } = look.shown();
    const view = { ...answer, bit: capture.bit, span, fit, width: Math.max(220, width), em };
    const { both, difference } = comparisonCharts(view);
    const name = String(rawAt(now.raw.value, '/name') ?? 'the design');
    figure.update(() => comparisonData(laid.value!, name, design, { both, difference }));
    return html`${both}${differenceFigure(difference)}`;
  });
  const node = createSection('bench-lie', 'Against the prediction', () =>
    lineUpView({
      conditions: conditions(now.inForce.value),
      some: chosenCapture(bench) !== undefined,
      work: work.state.value,
      laid: laid.value,
      old: now.design.value === undefined,
      figure: figure.node,
      onKeep: keep,
    }),
  );
  effect(() => {
    const shown = boxOf(node).value.width > 0;
    const [raw, capture] = [now.raw.value, chosenCapture(bench)];
    if (shown) untracked(() => lay(raw, capture));
  });
  return node;
}

/** Lays a capture over a design unless that has been asked last. */
function createLaying() {
  const work = createWork(createBenchClient());
  const laid = signal<LaidCapture | undefined>(undefined);
  let asked: readonly unknown[] = [];

  function lay(raw: RawDesign, capture: LaidCapture['capture'] | undefined): void {
    if (asked[0] === raw && asked[1] === capture) return;
    asked = [raw, capture];
    if (!capture) return work.cancel();
    const design = checked(raw);
    if (design instanceof Error) {
      work.cancel();
      return work.say({
        sign: 'error',
        text: `The design in the planning view does not hold: ${design.message}`,
      });
    }
    work.ask(
      'compare',
      { raw, capture },
      {
        busy: 'Lining it up.',
        onAnswer: (answer) => {
          laid.value = { answer, capture, design };
          return laidSaid(answer);
        },
        onFailed: ({ message }) => {
          laid.value = undefined;
          return message;
        },
      },
    );
  }
  return { work, laid, lay };
}

function checked(raw: RawDesign): Design | Error {
  try {
    return checkDesign(raw);
  } catch (error) {
    return error as Error;
  }
}

/** What the chosen capture was taken of, as fields. */
function createConditions(bench: BenchState) {
  /** What is wrong with the read current as typed. */
  const currentFault = signal<string | undefined>(undefined);
  const withChosen = (act: (id: number) => void): void => {
    const id = bench.chosenCapture.value;
    if (id !== undefined) act(id);
  };
  return (design: Design | undefined) => {
    const chosen = chosenCapture(bench);
    if (!chosen || !design) return nothing;
    return conditionsView({
      captures: bench.captures.value,
      chosen,
      design,
      currentFault: currentFault.value,
      onChoose: (id) => {
        bench.chosenCapture.value = id;
      },
      onRemove: () => withChosen((id) => removeCapture(bench, id)),
      onChange: (part) => withChosen((id) => changeCapture(bench, id, part)),
      onCurrent: (text) => {
        const reading = text === '' ? undefined : readQuantity(text, 'A');
        currentFault.value = reading === undefined || reading.ok ? undefined : reading.why;
        if (currentFault.value === undefined)
          withChosen((id) => changeCapture(bench, id, { readCurrent: text }));
      },
    });
  };
}
