import type { Unit } from '../../base/units.ts';
import { plannedInput, inputPatches, inputValue, type StudyInput } from '../shared/inputs.ts';
import { casesWords } from '../shared/cases-words.ts';
import { readOptions } from '../shared/options.ts';
import {
  fixedStrobe,
  freeStrobe,
  historyOf,
  historyPatches,
  makeReader,
  nominalInForce,
  runsPerReading,
} from '../shared/reading.ts';
import type { PointResult, StudyPart } from '../shared/shape.ts';
import { sensitivityOptions, type SensitivityOptions } from './sensitivity-options.ts';
import { COLUMNS, effectNote, mostFelt } from './sensitivity-words.ts';

/** Which inputs move the margin and the width of the window: central differences, one point an input. */

const INPUTS = [
  'drive.x',
  'drive.y',
  'inhibit',
  'edges',
  'core.threshold',
  'core.flux',
  'core.elastic',
  '/core/parameters/switchingResistance',
  'terminations',
  '/wire/mutualX',
  '/wire/mutualY',
  '/wire/couplingCapacitance',
  '/wire/inductancePerCore',
  '/wire/capacitancePerCore',
  '/amplifier/bandwidth',
  'threshold',
  'strobe',
  'stagger',
  'temperature',
];

/** Inputs whose per cent means nothing move by one such unit per step of one per cent. */
const UNIT_STEP: Partial<Record<Unit, number>> = { '°C': 1, s: 1e-9 };

export const sensitivity: StudyPart<SensitivityOptions> = {
  options: sensitivityOptions,

  plan(request, design, tools) {
    const given = readOptions(request, sensitivityOptions);
    const { seed, step, strobe, cases } = given;
    const nominal = nominalInForce(design, cases, tools);
    const inputs = (given.inputs ?? INPUTS.map(plannedInput)).filter(
      (input) => !(input.key === 'strobe' && strobe === 'best'),
    );
    const points = inputs.flatMap((input) => {
      const value = inputValue(input, design) ?? (input.key === 'strobe' ? nominal.time : undefined);
      if (value === undefined) return [];
      const perStep = perPercent(input, value);
      const patches = inputPatches(input, design, value + step * perStep);
      return [{ name: input.label, patches, inputs: { key: input.key, nominal: value, perStep } }];
    });
    return {
      kind: 'sensitivity',
      design: request.design,
      options: { step, strobe, cases, inputs: points.map((point) => point.inputs.key) },
      seed,
      points,
      nominal,
      runs: points.length * 2 * runsPerReading(cases),
    };
  },

  evaluate(plan, point, tools) {
    const { key, nominal, perStep } = point.inputs as { key: string; nominal: number; perStep: number };
    const input = plannedInput(key);
    const design = tools.checkDesign(plan.design);
    const step = plan.options.step;
    const strobe = plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe;
    const reader = makeReader(plan, tools);
    const read = (sign: number) =>
      reader.read([
        ...historyPatches(plan.design, design, historyOf(input.paths)),
        ...strobe,
        ...inputPatches(input, design, nominal + sign * step * perStep),
      ]);
    const [low, high] = [read(-1), read(1)];
    if (low.margin === null || high.margin === null)
      throw new Error('There is no margin to compare on one side of the nominal.');
    return {
      values: {
        input: input.label,
        unit: input.unit,
        // A difference of temperatures is no temperature.
        changeUnit: input.unit === '°C' ? 'K' : input.unit,
        nominal,
        change: perStep,
        margin: (high.margin - low.margin) / (2 * step),
        width: (high.width - low.width) / (2 * step),
        one: difference(low.one, high.one, step),
        zero: difference(low.zero, high.zero, step),
      },
    };
  },

  summarise(plan, results) {
    const ranked = [...results].sort((a, b) => Math.abs(marginEffect(b)) - Math.abs(marginEffect(a)));
    return {
      findings: [...mostFelt(ranked[0]), casesWords(plan, 0)],
      estimates: [],
      columns: COLUMNS,
      series: [],
      map: null,
      histogram: null,
      ranking: ranked.map((result) => ({
        name: result.name,
        path: String(result.values.input),
        value: marginEffect(result),
        unit: 'V',
        point: result.index,
        note: effectNote(result),
      })),
    };
  },
};

/** One per cent of the nominal; one kelvin for temperatures, one nanosecond for the strobe and zero times. */
function perPercent(input: StudyInput, value: number): number {
  const own = input.unit === '°C' || value === 0 || input.key === 'strobe' || input.key === 'stagger';
  return own ? (UNIT_STEP[input.unit] ?? 1) : Math.abs(value) / 100;
}

/** V that the margin changes by for the change of a point. */
const marginEffect = ({ values }: PointResult): number => Number(values.margin);

function difference(low: number | null, high: number | null, step: number): number | null {
  return low === null || high === null ? null : (high - low) / (2 * step);
}
