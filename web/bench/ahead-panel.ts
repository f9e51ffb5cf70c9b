import { signal, type ReadonlySignal } from '@preact/signals-core';
import type { Patch } from '../../engine/base/json-patch.ts';
import type { Knowledge } from '../../engine/predict/knowledge.ts';
import { nextSheet } from '../../engine/predict/next/next-words.ts';
import type { WhatNext } from '../../engine/predict/next/what-next.ts';
import type { Prediction } from '../../engine/predict/prediction.ts';
import { createWork } from '../compute/work.ts';
import { asJson } from '../model/bench-capture.ts';
import { saveFile } from '../sharing/save.ts';
import { aheadView, type Otherwise } from './ahead-view.ts';
import { createBenchClient } from './bench-client.ts';
import type { DesignNow } from './bench-state.ts';
import { createSection } from './section.ts';

interface Found<T> {
  readonly answer: T;
  /** The fit, or the design, that it is of. */
  readonly of: unknown;
}

/** From the last fit, or from the design alone: a prediction with intervals, and what to measure next. */
export function createAheadPanel(now: DesignNow, fitted: ReadonlySignal<Knowledge | undefined>): HTMLElement {
  const [predicting, ranking] = [createWork(createBenchClient()), createWork(createBenchClient())];
  const prediction = signal<Found<Prediction> | undefined>(undefined);
  const next = signal<Found<WhatNext> | undefined>(undefined);
  const source = (): { readonly known: Knowledge; readonly of: unknown } => {
    const known = fitted.value;
    if (known !== undefined) return { known, of: known };
    const raw = now.raw.value;
    return { known: { design: asJson(raw), values: [], correlations: [], captures: [] }, of: raw };
  };
  const progress =
    (what: string) =>
    ({ done, planned }: { done: number; planned: number }) => ({
      done,
      planned,
      text: `${what}: ${done} of ${planned}.`,
    });

  function predict(otherwise: Otherwise): void {
    const { known, of } = source();
    predicting.ask(
      'predict',
      { known, changes: changesOf(otherwise) },
      {
        busy: 'Predicting.',
        onPiece: progress('Predicting'),
        onAnswer: (answer) => {
          prediction.value = { answer, of };
        },
      },
    );
  }

  function rank(): void {
    const { known, of } = source();
    ranking.ask(
      'next',
      { known },
      {
        busy: 'Trying what could be measured.',
        onPiece: progress('Trying what could be measured'),
        onAnswer: (answer) => {
          next.value = { answer, of };
        },
      },
    );
  }

  return createSection('bench-ahead', 'Predict with intervals, and measure next', () => {
    const { known, of } = source();
    const found = [prediction.value, next.value].filter((each) => each !== undefined);
    return aheadView({
      from:
        known.captures.length === 0
          ? 'From the design in the planning view and the ranges of its core: fit captures first, and what they tell is counted.'
          : `From the last fit, to ${known.captures.length === 1 ? 'one capture' : `${known.captures.length} captures`}.`,
      unable: known.captures.length === 0 && !now.design.value,
      predicting: predicting.state.value,
      ranking: ranking.state.value,
      prediction: prediction.value?.answer,
      next: next.value?.answer,
      old: found.some((each) => each.of !== of),
      onPredict: predict,
      onNext: rank,
      onCancel: () => {
        predicting.cancel('Cancelled.');
        ranking.cancel('Cancelled.');
      },
      onSheet: (answer) => saveFile('measure-next.html', 'text/html', nextSheet('', answer)),
    });
  });
}

/** Changes of the design from what was typed; a bare number stands for mA and °C. */
function changesOf({ rows, columns, current, temperature }: Otherwise): Patch[] {
  const withUnit = (text: string, unit: string): string =>
    /^[-+\d.]+$/u.test(text) ? `${text} ${unit}` : text;
  const whole = (text: string): number | string => (/^\d+$/u.test(text) ? Number(text) : text);
  return [
    ...(rows === '' ? [] : [{ path: '/mat/rows', value: whole(rows) }]),
    ...(columns === '' ? [] : [{ path: '/mat/columns', value: whole(columns) }]),
    ...(current === ''
      ? []
      : (['x', 'y'] as const).map((line) => ({
          path: `/drive/${line}/readAmplitude`,
          value: withUnit(current, 'mA'),
        }))),
    ...(temperature === '' ? [] : [{ path: '/temperature', value: withUnit(temperature, 'degC') }]),
  ];
}
