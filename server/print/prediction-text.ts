import type { Prediction } from '../../engine/predict/prediction.ts';
import {
  FIGURE_HEADER,
  figureRows,
  groundSentences,
  outsideSentences,
} from '../../engine/predict/predict-words.ts';
import { csvLine } from './csv-line.ts';
import { textTable } from './table.ts';
import { describeDesign } from './words.ts';

/** A prediction for a reader: figures with intervals, what lies outside what was measured, on what it rests. */
export function predictionText(found: Prediction): string {
  const lines = (sentences: readonly string[]): string => sentences.map((each) => `${each}\n`).join('');
  return [
    describeDesign(found.design),
    textTable([[...FIGURE_HEADER], ...figureRows(found)], ''),
    ...(found.outside.length === 0 ? [] : [lines(outsideSentences(found))]),
    lines(groundSentences(found)),
  ].join('\n');
}

/** The traces with their bands as CSV, SI. */
export function predictionCsv({ time, traces }: Prediction): string {
  const head = traces.flatMap(({ name }) => [`${name}_V`, `${name}_low_V`, `${name}_high_V`]);
  return [
    ['time_s', ...head],
    ...Array.from(time, (t, i) => [
      String(t),
      ...traces.flatMap(({ value, low, high }) => [value, low, high].map((each) => String(each[i]!))),
    ]),
  ]
    .map(csvLine)
    .join('');
}
