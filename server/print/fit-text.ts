import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import { misfitWords } from '../../engine/fitting/misfit-words.ts';
import type { NamedJudgement } from '../judged.ts';
import { csvLine } from './csv-line.ts';
import { judgementsText } from './judgement-text.ts';
import { textTable } from './table.ts';

/** A fit for a reader: how it ended, the unknowns with their intervals, how each capture lies on the prediction. */
export function fitText(fit: FitResult & { readonly judgements: readonly NamedJudgement[] }): string {
  const unit = (value: number, name: string): string => formatQuantity(value, name as Unit, 4);
  const rows = fit.unknowns.map(({ meaning, unit: name, start, value, interval, bounds, atBound }) => [
    meaning,
    unit(start, name),
    unit(value, name),
    atBound === undefined
      ? `${unit(interval.low, name)} to ${unit(interval.high, name)}`
      : `held at its ${atBound} bound, ${unit(atBound === 'lower' ? bounds.low : bounds.high, name)}`,
  ]);
  const captures = fit.captures.map(({ label, lineUp, comparison }) => {
    const gain = `gain ${formatQuantity(lineUp.gain, '1', 4)}, offset ${formatQuantity(lineUp.offset, 'V')}`;
    return `${label}: the start of read lies at ${formatQuantity(lineUp.delay, 's', 4)}, ${gain}. ${misfitWords(comparison)}\n`;
  });
  return [
    judgementsText(fit.judgements),
    fit.statements.map((statement) => `${statement}\n`).join(''),
    ...(rows.length === 0 ? [] : [textTable([['', 'start', 'fitted', '95 % interval'], ...rows], '')]),
    ...(rows.length < 2 ? [] : [correlationsText(fit)]),
    ...(fit.undetermined.length === 0 ? [] : [fit.undetermined.map((sentence) => `${sentence}\n`).join('')]),
    captures.join(''),
  ].join('\n');
}

const correlationsText = ({ unknowns, correlations }: FitResult): string =>
  textTable(
    [
      ['correlation', ...unknowns.map(({ name }) => name)],
      ...unknowns.map(({ name }, i) => [
        name,
        ...correlations[i].map((r) => (Number.isFinite(r) ? r.toFixed(2).replace('-', '−') : '')),
      ]),
    ],
    '',
  );

/** The unknowns as CSV, SI, each with its correlation with every other. */
export function fitCsv(fit: FitResult): string {
  const cell = (value: number): string => (Number.isFinite(value) ? String(value) : '');
  const names = fit.unknowns.map(({ name }) => `correlation with ${name}`);
  return [
    [
      'name',
      'unit',
      'start',
      'lowest',
      'highest',
      'value',
      'standardError',
      'low95',
      'high95',
      'atBound',
      ...names,
    ],
    ...fit.unknowns.map(({ name, unit, start, bounds, value, standardError, interval, atBound }, i) => [
      name,
      unit,
      cell(start),
      cell(bounds.low),
      cell(bounds.high),
      cell(value),
      cell(standardError),
      cell(interval.low),
      cell(interval.high),
      atBound ?? '',
      ...fit.correlations[i].map(cell),
    ]),
  ]
    .map(csvLine)
    .join('');
}
