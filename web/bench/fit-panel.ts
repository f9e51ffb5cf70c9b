import { computed, signal } from '@preact/signals-core';
import { createWork } from '../compute/work.ts';
import { knowledgeOf, type Knowledge } from '../../engine/predict/knowledge.ts';
import { toFitCapture, type BenchCapture } from '../model/bench-capture.ts';
import type { RawDesign } from '../model/pointer.ts';
import { saveFile } from '../sharing/save.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState, DesignNow } from './bench-state.ts';
import { fitFile } from './fit-file.ts';
import { fitView, type Fitted } from './fit-view.ts';
import { createSection } from './section.ts';
import { createUnknowns } from './unknowns.ts';
import { unknownsView } from './unknowns-view.ts';

export interface FitPanelCallbacks {
  /** Puts the fitted design into the planning view. */
  readonly onUse: (raw: RawDesign) => void;
  readonly onPlan: () => void;
  /** Told what is known after each fit. */
  readonly onFitted: (known: Knowledge) => void;
}

/** Which unknowns to find from which captures; then what was found. */
export function createFitPanel(
  bench: BenchState,
  now: DesignNow,
  { onUse, onPlan, onFitted }: FitPanelCallbacks,
): HTMLElement {
  const state = createFitState(bench, now, onFitted);
  const { unknowns, work, left, using, found, used } = state;
  return createSection('bench-fit', 'Fit what is not known', () =>
    fitView({
      captures: bench.captures.value,
      left: left.value,
      unknowns: unknownsView(unknowns, now.inForce.value),
      chosen: unknowns.chosen.value,
      unable: !now.design.value || using.value.length === 0 || unknowns.chosen.value.length === 0,
      work: work.state.value,
      found: found.value,
      old: found.value !== undefined && !sameCaptures(found.value.captures, using.value),
      used: used.value,
      onTake: (id, taken) => {
        left.value = new Set(taken ? [...left.value].filter((each) => each !== id) : [...left.value, id]);
      },
      onFit: state.run,
      onCancel: () => work.cancel('Cancelled; nothing was changed.'),
      onUse: ({ fit }) => {
        onUse(fit.design as RawDesign);
        used.value = true;
      },
      onSaveDesign: ({ fit }) =>
        saveFile('fitted-design.json', 'application/json', `${JSON.stringify(fit.design, null, 2)}\n`),
      onSaveFit: ({ fit, captures, known }) =>
        saveFile('fit.json', 'application/json', fitFile(fit, captures, known)),
      onPlan,
    }),
  );
}

const sameCaptures = (a: readonly BenchCapture[], b: readonly BenchCapture[]): boolean =>
  a.length === b.length && a.every((capture, i) => capture === b[i]);

/** What was chosen, what was found of it, and the way to fit. */
function createFitState(bench: BenchState, now: DesignNow, onFitted: FitPanelCallbacks['onFitted']) {
  const unknowns = createUnknowns(now.inForce);
  const work = createWork(createBenchClient());
  /** Captures that the reader leaves out. */
  const left = signal<ReadonlySet<number>>(new Set());
  const found = signal<Fitted | undefined>(undefined);
  /** The planning view was given what was found. */
  const used = signal(false);
  const using = computed(() => bench.captures.value.filter(({ id }) => !left.value.has(id)));

  function run(): void {
    const [raw, captures, chosen, ranges] = [
      now.raw.value,
      using.value,
      unknowns.chosen.value,
      unknowns.ranges(),
    ];
    if (ranges === undefined) return;
    work.ask(
      'fit',
      { raw, captures, unknowns: chosen, ranges },
      {
        busy: 'Fitting.',
        onPiece: ({ done, planned, runs }) => ({
          done,
          planned,
          text: `Fitting: iteration ${done} of at most ${planned}, ${runs} runs so far.`,
        }),
        onAnswer: (fit) => {
          used.value = false;
          const known = knowledgeOf(
            fit,
            captures.map((capture) => toFitCapture(raw, capture)),
          );
          found.value = { fit, captures, known };
          onFitted(known);
        },
        onFailed: ({ message, field }) =>
          unknowns.refuse(field, message) ? 'Not fitted: see the bounds.' : message,
      },
    );
  }

  return { unknowns, work, left, found, used, using, run };
}
