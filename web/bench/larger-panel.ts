import { signal } from '@preact/signals-core';
import { createWork } from '../compute/work.ts';
import type { RawDesign } from '../model/pointer.ts';
import { createBenchClient } from './bench-client.ts';
import type { DesignNow } from './bench-state.ts';
import type { Larger } from './bench-messages.ts';
import { largerView, type Size } from './larger-view.ts';
import { createSection } from './section.ts';

/** The design in the planning view in another size: what becomes of the window. */
export function createLargerPanel(now: DesignNow, onOpen: (raw: RawDesign) => void): HTMLElement {
  const work = createWork(createBenchClient());
  /** What the fields hold until another size is typed: twice the first design's. */
  let first: Size | undefined;
  const found = signal<{ readonly answer: Larger; readonly of: RawDesign } | undefined>(undefined);

  function predict({ rows, columns }: Size): void {
    const of = now.raw.value;
    work.ask(
      'larger',
      { raw: of, rows, columns },
      {
        busy: 'Looking for the worst cases of both sizes.',
        onAnswer: (answer) => {
          found.value = { answer, of };
        },
      },
    );
  }

  return createSection('bench-larger', 'Predict the next build', () => {
    const [raw, design] = [now.raw.value, now.design.value];
    first ??= design && { rows: 2 * design.mat.rows, columns: 2 * design.mat.columns };
    return largerView({
      raw,
      design,
      first,
      work: work.state.value,
      found: found.value?.answer,
      old: found.value?.of !== raw,
      onPredict: predict,
      onOpen,
      onCancel: () => work.cancel('Cancelled.'),
    });
  });
}
