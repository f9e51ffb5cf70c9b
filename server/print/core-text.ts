import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { HandbookSource } from '../../engine/core/handbook/check-handbook.ts';
import type { CoreReport } from '../../engine/core/handbook/core-report.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import type { FittedCore } from '../../engine/fitting/jig/fit-core.ts';
import { textTable } from './table.ts';

const PARAMETER_WORDS: readonly (readonly [keyof CoreParameters, string, Unit])[] = [
  ['remanentFlux', 'remanent flux phi_r', 'Wb'],
  ['squareness', 'squareness phi_r / phi_s', '1'],
  ['coerciveDrive', 'coercive ampere-turns F_c', 'A'],
  ['ringSpread', 'spread of thresholds over the rings r', '1'],
  ['staticKneeWidth', 'width of the static knee w', 'A'],
  ['dynamicThreshold', 'dynamic threshold F_0', 'A'],
  ['dynamicKneeWidth', 'width of the dynamic knee s', 'A'],
  ['switchingResistance', 'switching resistance rho', 'ohm'],
  ['elasticSaturated', 'elastic slope into saturation', 'H'],
  ['elasticKnee', 'elastic slope toward the knee', 'H'],
  ['elasticBend', 'bend of the elastic slope F_e', 'A'],
];

/** A core for a reader: its parameters, how well they answer the handbook, what had to be assumed. */
export function coreText(report: CoreReport, from: HandbookSource): string {
  const { parameters, comparisons, geometry, notes } = report;
  const name = from.name === '' ? 'Core without a name' : from.name;
  const source = from.source === '' ? 'no source given' : `source: ${from.source}`;
  const rows = PARAMETER_WORDS.map(([key, word, unit]) => [word, formatQuantity(parameters[key], unit, 4)]);
  const answers = comparisons.map(({ meaning, unit, wanted, achieved, deviation }) => [
    meaning,
    wanted === undefined ? '' : formatQuantity(wanted, unit, 4),
    formatQuantity(achieved, unit, 4),
    deviation === undefined ? '' : `${(deviation * 100).toFixed(2).replace('-', '−')} %`,
  ]);
  return [
    `${name}\n${source}\n`,
    `Model parameters at 25 °C\n${textTable(rows)}`,
    `What the model core answers\n${textTable([['', 'handbook', 'model', 'off by'], ...answers])}`,
    `Cross-section ${(geometry.area * 1e6).toPrecision(4)} mm², ${geometry.remanentDensity.toPrecision(3)} T at remanence.\n`,
    notes.length === 0
      ? 'Nothing had to be assumed.\n'
      : `Assumed\n${notes.map((note) => `  ${note}\n`).join('')}`,
  ].join('\n');
}

const MEASURED_WORDS: readonly (readonly [keyof FittedCore['measured'], string, Unit])[] = [
  ['peakOne', 'peak of an undisturbed ONE (uV1)', 'V'],
  ['peakTime', 'start of the rise to the peak (t_p)', 's'],
  ['switchTime', 'start of the rise to a tenth of the peak on the fall (t_s)', 's'],
  ['disturbedZero', 'disturbed ZERO at the end of the rise (dVz)', 'V'],
];

/** A core read off captures: first what was read, each with its standard error, then as any other core. */
export function fittedCoreText({ measured, report }: FittedCore, from: HandbookSource): string {
  const rows = MEASURED_WORDS.flatMap(([key, words, unit]) => {
    const read = measured[key];
    if (read === undefined) return [];
    return [[words, formatQuantity(read.value, unit, 4), formatQuantity(read.error, unit, 2)]];
  });
  return `Read off the captures\n${textTable([['', 'value', 'standard error'], ...rows])}\n${coreText(report, from)}`;
}
