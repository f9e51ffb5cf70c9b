import { signal, type ReadonlySignal } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import { applyPatches, type Patch } from '../../engine/base/json-patch.ts';
import type { Knowledge } from '../../engine/predict/knowledge.ts';
import { nextSheet } from '../../engine/predict/next/next-words.ts';
import type { WhatNext } from '../../engine/predict/next/what-next.ts';
import type { Prediction } from '../../engine/predict/prediction.ts';
import { createWork } from '../compute/work.ts';
import { asJson } from '../model/bench-capture.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { createFigure } from '../sharing/figure.ts';
import { saveFile } from '../sharing/save.ts';
import { mount } from '../ui/mount.ts';
import { aheadView, type Otherwise } from './ahead-view.ts';
import { bandsChart, bandsData } from './bands-chart.ts';
import { createBenchClient } from './bench-client.ts';
import type { DesignNow } from './bench-state.ts';
import { createSection } from './section.ts';

interface Found<T> {
  readonly answer: T;
  /** The fit, or the design, that it is of. */
  readonly of: unknown;
}

/** From the last fit, or from the design alone: a prediction with intervals, and what to measure next. */
export function createAheadPanel(
  now: DesignNow,
  fitted: ReadonlySignal<Knowledge | undefined>,
  onOpen: (raw: RawDesign) => void,
): HTMLElement {
  const [predicting, ranking] = [createWork(createBenchClient()), createWork(createBenchClient())];
  const prediction = signal<(Found<Prediction> & { readonly file: RawDesign }) | undefined>(undefined);
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
    const changes = changesOf(otherwise);
    predicting.ask(
      'predict',
      { known, changes },
      {
        busy: 'Predicting.',
        onPiece: progress('Predicting'),
        onAnswer: (answer) => {
          prediction.value = { answer, of, file: applyPatches(known.design, changes) as RawDesign };
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

  const figure = createFigure({ title: 'ONE and ZERO as predicted, in their bands' });
  mount(figure.body, (box) => {
    const answer = prediction.value?.answer;
    if (!answer) return nothing;
    const svg = bandsChart(answer, box);
    figure.update(() => bandsData(answer, svg));
    return html`${svg}`;
  });

  return createSection('bench-ahead', 'Predict the next build, and measure next', () => {
    const { known, of } = source();
    const found = [prediction.value, next.value].filter((each) => each !== undefined);
    return aheadView({
      from: fromWords(known),
      unable: known.captures.length === 0 && !now.design.value,
      predicting: predicting.state.value,
      ranking: ranking.state.value,
      prediction: prediction.value?.answer,
      next: next.value?.answer,
      old: found.some((each) => each.of !== of),
      figure: figure.node,
      onOpen: () => onOpen(prediction.value!.file),
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

/** On what a prediction would rest. */
function fromWords({ design, captures }: Knowledge): string {
  const name = String(rawAt(design as RawDesign, '/name') ?? 'the design');
  return captures.length === 0
    ? `From ${name} in the planning view and the ranges of its core: fit captures first, and what they tell is counted.`
    : `From ${name} as last fitted, to ${captures.length === 1 ? 'one capture' : `${captures.length} captures`}.`;
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
