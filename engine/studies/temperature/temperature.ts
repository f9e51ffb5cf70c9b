import { formatQuantity } from '../../base/format-quantity.ts';
import type { Patch } from '../../base/json-patch.ts';
import { quantityJson } from '../shared/inputs.ts';
import { readOptions, refuseOption } from '../shared/options.ts';
import {
  fixedStrobe,
  freeStrobe,
  makeReader,
  nominalInForce,
  runsPerReading,
  type Reading,
} from '../shared/reading.ts';
import type { StudyPart } from '../shared/shape.ts';
import { scanLine } from '../shared/trace-edge.ts';
import { drivePatches, widestPass, whyOutside } from './drive-region.ts';
import { temperatureOptions, type TemperatureOptions } from './temperature-options.ts';
import { COLUMNS, NO_DRIVE, temperatureFindings, temperatureSeries } from './temperature-words.ts';

export const temperature: StudyPart<TemperatureOptions> = {
  options: temperatureOptions,

  plan(request, design, tools) {
    const given = readOptions(request, temperatureOptions);
    const { seed, from, to, steps, driveFrom, driveTo, coarse, cases } = given;
    if (!(from < to))
      refuseOption(
        ['to'],
        `must be above from, ${formatQuantity(from, '°C')}, but is ${formatQuantity(to, '°C')}; exchange the two`,
      );
    const own = Math.max(-0.02, Math.min(0.01, design.core.parameters.driveTemperatureCoefficient));
    const { coefficient = own } = given;
    const points = Array.from({ length: steps }, (_, i) => {
      const celsius = from + ((to - from) * i) / (steps - 1);
      return {
        name: formatQuantity(celsius, '°C'),
        patches: [{ path: '/temperature', value: quantityJson(celsius, '°C') }],
        inputs: { celsius },
      };
    });
    return {
      kind: 'temperature',
      design: request.design,
      options: { from, to, steps, coefficient, driveFrom, driveTo, coarse, cases },
      seed,
      points,
      nominal: nominalInForce(design, cases, tools),
      runs: points.length * (4 + coarse + 12) * runsPerReading(cases),
    };
  },

  evaluate(plan, point, tools) {
    const design = tools.checkDesign(plan.design);
    const fixed = fixedStrobe(plan);
    const tracking = trackingPatches(plan.options.coefficient);
    const reader = makeReader(plan, tools);
    const read = (patches: readonly Patch[]) => reader.read([...point.patches, ...patches]);
    const steadyFixed = read([...fixed]);
    const steadyBest = read(freeStrobe);
    const trackedFixed = read([...tracking, ...fixed]);
    const trackedBest = read([...tracking, ...freeStrobe]);

    const { driveFrom: low, driveTo: high, coarse } = plan.options;
    const readings = new Map<number, Reading>();
    const line = scanLine(low, high, coarse, (high - low) / 256, (factor) => {
      const reading = read([...drivePatches(design, factor), ...fixed]);
      readings.set(factor, reading);
      return reading;
    });
    const region = widestPass(line, low, high);
    const nominal = design.drive.x.readAmplitude;
    return {
      values: {
        celsius: Number(point.inputs.celsius),
        steadyFixed: steadyFixed.margin,
        steadyBest: steadyBest.margin,
        trackedFixed: trackedFixed.margin,
        trackedBest: trackedBest.margin,
        steadyFixedPass: steadyFixed.pass,
        trackedFixedPass: trackedFixed.pass,
        bestStrobe: steadyBest.pass ? steadyBest.strobe : null,
        trackedStrobe: trackedBest.pass ? trackedBest.strobe : null,
        driveLow: region ? region.low * nominal : null,
        driveHigh: region ? region.high * nominal : null,
        recommended: region ? ((region.low + region.high) / 2) * nominal : null,
        below: region ? whyOutside(readings, region.low, -1) : NO_DRIVE,
        above: region ? whyOutside(readings, region.high, 1) : NO_DRIVE,
      },
    };
  },

  summarise(plan, results) {
    const sorted = [...results].sort((a, b) => Number(a.values.celsius) - Number(b.values.celsius));
    return {
      findings: temperatureFindings(plan, sorted),
      estimates: [],
      columns: COLUMNS,
      series: temperatureSeries(sorted),
      map: null,
      histogram: null,
      ranking: [],
    };
  },
};

function trackingPatches(coefficient: number): Patch[] {
  return ['x', 'y', 'inhibit'].map((line) => ({
    path: `/drive/${line}/temperatureCoefficient`,
    value: quantityJson(coefficient, '1/K'),
  }));
}
