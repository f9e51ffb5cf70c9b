import { formatQuantity } from '../base/format-quantity.ts';
import type { Patch } from '../base/json-patch.ts';
import type { Design } from '../design/design.ts';
import { mean } from '../numerics/statistics.ts';
import { findInput, inputPatches, quantityJson } from './shared/inputs.ts';
import { readOptions, refuseOption } from './shared/options.ts';
import {
  STUDY_CASES,
  fixedStrobe,
  freeStrobe,
  makeReader,
  nominalInForce,
  runsPerReading,
  type Reading,
} from './shared/reading.ts';
import type { Column, PointResult, Series, StudyPart } from './shared/shape.ts';
import { scanLine } from './shared/trace-edge.ts';

/**
 * Temperature with and without drives that track it, with a fixed strobe and one that tracks; and the region of
 * drive against temperature that works, bounded by false ZEROs below and disturbed ZEROs above, as Törnquist drew
 * it (Elteknik 2, 1959, pp. 97-98).
 */

const DRIVE = ['drive.x', 'drive.y', 'inhibit'];

export const temperature: StudyPart = {
  plan(request, design, tools) {
    const options = readOptions(request);
    const seed = options.seed();
    const from = options.quantity('from', 0, '°C', -60, 125);
    const to = options.quantity('to', 60, '°C', -60, 125);
    if (!(from < to))
      refuseOption(
        '/options/to',
        `above from, ${formatQuantity(from, '°C')}`,
        `${to} °C`,
        'exchange the two',
      );
    const steps = options.count('steps', 7, 2, 101);
    const own = Math.max(-0.02, Math.min(0.01, design.core.parameters.driveTemperatureCoefficient));
    const coefficient = options.quantity('coefficient', own, '1/K', -0.02, 0.01);
    const lowest = options.ratio('driveFrom', 0.7, 0.2, 0.99);
    const highest = options.ratio('driveTo', 1.4, 1.01, 3);
    const coarse = options.count('coarse', 8, 2, 50);
    const cases = options.choice('cases', 'worst', STUDY_CASES);
    options.finish();
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
      options: { from, to, steps, coefficient, driveFrom: lowest, driveTo: highest, coarse, cases },
      seed,
      points,
      nominal: nominalInForce(design, cases, tools),
      runs: points.length * (4 + coarse + 12) * runsPerReading(cases),
    };
  },

  evaluate(plan, point, tools) {
    const design = tools.checkDesign(plan.design);
    const fixed = fixedStrobe(plan);
    const tracking = trackingPatches(Number(plan.options.coefficient));
    const reader = makeReader(plan, tools);
    const read = (patches: readonly Patch[]) => reader.read([...point.patches, ...patches]);
    const steadyFixed = read([...fixed]);
    const steadyBest = read(freeStrobe);
    const trackedFixed = read([...tracking, ...fixed]);
    const trackedBest = read([...tracking, ...freeStrobe]);

    const low = Number(plan.options.driveFrom);
    const high = Number(plan.options.driveTo);
    const readings = new Map<number, Reading>();
    const line = scanLine(low, high, Number(plan.options.coarse), (high - low) / 256, (factor) => {
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
        below: region ? whyOutside(readings, region.low, -1) : 'no drive in the range works',
        above: region ? whyOutside(readings, region.high, 1) : 'no drive in the range works',
      },
    };
  },

  summarise(plan, results) {
    const sorted = [...results].sort((a, b) => Number(a.values.celsius) - Number(b.values.celsius));
    const line = (
      key: string,
      name: string,
      panel: string,
      yLabel: string,
      yUnit: string,
      role: Series['role'] = 'data',
    ): Series => ({
      name,
      panel,
      xLabel: 'temperature',
      xUnit: '°C',
      yLabel,
      yUnit,
      x: sorted.map((result) => Number(result.values.celsius)),
      y: sorted.map((result) => (typeof result.values[key] === 'number' ? Number(result.values[key]) : null)),
      point: sorted.map((result) => result.index),
      role,
    });
    return {
      findings: [
        ...region(sorted),
        ...recommendation(sorted),
        ...coverage(sorted, plan.options.coefficient as number),
      ],
      estimates: [],
      columns: COLUMNS,
      series: [
        line('steadyFixed', 'steady drive, fixed strobe', 'margin', 'margin', 'V'),
        line('steadyBest', 'steady drive, best strobe', 'margin', 'margin', 'V'),
        line('trackedFixed', 'tracking drive, fixed strobe', 'margin', 'margin', 'V'),
        line('trackedBest', 'tracking drive, best strobe', 'margin', 'margin', 'V'),
        line('driveLow', 'false ZERO below', 'drive that works', 'drive per line', 'A', 'limit'),
        line('driveHigh', 'disturbed ZERO above', 'drive that works', 'drive per line', 'A', 'limit'),
        line('recommended', 'recommended', 'drive that works', 'drive per line', 'A'),
        line('bestStrobe', 'steady drive', 'best strobe', 'strobe', 's'),
        line('trackedStrobe', 'tracking drive', 'best strobe', 'strobe', 's'),
      ],
      map: null,
      histogram: null,
      ranking: [],
    };
  },
};

const COLUMNS: readonly Column[] = [
  { key: 'celsius', label: 'temperature', unit: '°C' },
  { key: 'steadyFixed', label: 'margin, steady drive, fixed strobe', unit: 'V' },
  { key: 'steadyBest', label: 'margin, steady drive, best strobe', unit: 'V' },
  { key: 'trackedFixed', label: 'margin, tracking drive, fixed strobe', unit: 'V' },
  { key: 'trackedBest', label: 'margin, tracking drive, best strobe', unit: 'V' },
  { key: 'bestStrobe', label: 'best strobe, steady drive', unit: 's' },
  { key: 'trackedStrobe', label: 'best strobe, tracking drive', unit: 's' },
  { key: 'driveLow', label: 'least drive per line', unit: 'A' },
  { key: 'driveHigh', label: 'greatest drive per line', unit: 'A' },
  { key: 'recommended', label: 'recommended drive per line', unit: 'A' },
  { key: 'below', label: 'limit below', unit: 'text' },
  { key: 'above', label: 'limit above', unit: 'text' },
];

function trackingPatches(coefficient: number): Patch[] {
  return ['x', 'y', 'inhibit'].map((line) => ({
    path: `/drive/${line}/temperatureCoefficient`,
    value: quantityJson(coefficient, '1/K'),
  }));
}

/** All currents times a factor. */
function drivePatches(design: Design, factor: number): Patch[] {
  return DRIVE.flatMap((key) => {
    const input = findInput(key, '');
    const { x, y, inhibit } = design.drive;
    const nominal = key === 'inhibit' ? inhibit.amplitude : (key === 'drive.x' ? x : y).readAmplitude;
    return inputPatches(input, design, nominal * factor);
  });
}

/** The longest passing stretch of a scanned line; its ends are edges or the ends of the line. */
function widestPass(
  line: ReturnType<typeof scanLine>,
  low: number,
  high: number,
): { readonly low: number; readonly high: number } | undefined {
  const bounds = [low, ...line.edges.map((edge) => edge.x), high];
  let passing = line.samples[0]!.pass;
  let best: { low: number; high: number } | undefined;
  for (let i = 0; i + 1 < bounds.length; i++) {
    const [from, to] = [bounds[i]!, bounds[i + 1]!];
    if (passing && to - from > (best ? best.high - best.low : 0)) best = { low: from, high: to };
    passing = !passing;
  }
  return best;
}

/** Reason of the failing reading nearest outside an end. */
function whyOutside(readings: ReadonlyMap<number, Reading>, end: number, side: 1 | -1): string {
  let nearest: { readonly distance: number; readonly reason: string } | undefined;
  for (const [factor, reading] of readings) {
    const distance = (factor - end) * side;
    if (!reading.pass && distance >= 0 && (!nearest || distance < nearest.distance))
      nearest = { distance, reason: reading.reason };
  }
  return nearest?.reason ?? 'works to the end of the range';
}

/** The region's ends at the coldest and the warmest, and what bounds it on either side. */
function region(results: readonly PointResult[]): string[] {
  const known = results.filter((result) => typeof result.values.driveLow === 'number');
  const [first, last] = [known[0], known.at(-1)];
  if (!first || !last) return ['No drive in the range works at any of the temperatures.'];
  const ends = ({ values }: PointResult): string =>
    `${formatQuantity(Number(values.driveLow), 'A')} to ${formatQuantity(Number(values.driveHigh), 'A')} per line at ${formatQuantity(Number(values.celsius), '°C')}`;
  const bounds = (key: 'below' | 'above'): string =>
    [...new Set(known.map((result) => String(result.values[key])))].join(', or ');
  return [
    `Drive that works with the strobe fixed: ${ends(first)}${known.length > 1 ? `, ${ends(last)}` : ''}. Bounded below by: ${bounds('below')}; above by: ${bounds('above')}.`,
  ];
}

/** Straight line through the middles of the region, about 25 °C. */
function recommendation(results: readonly PointResult[]): string[] {
  const known = results.filter((result) => typeof result.values.recommended === 'number');
  if (known.length < 2) return [];
  const t = known.map((result) => Number(result.values.celsius) - 25);
  const d = known.map((result) => Number(result.values.recommended));

  const [mt, md] = [mean(t), mean(d)];
  const slope =
    t.reduce((sum, value, i) => sum + (value - mt) * (d[i]! - md), 0) /
    t.reduce((sum, value) => sum + (value - mt) ** 2, 0);
  const at25 = md - slope * mt;
  return [
    `Recommended drive per line: ${formatQuantity(at25, 'A')} at 25 °C, changing by ${formatQuantity(slope / at25, '1/K', 2)} (straight line through the middle of the region that works with the strobe fixed).`,
  ];
}

function coverage(results: readonly PointResult[], coefficient: number): string[] {
  const range = (key: string): string => {
    const passing = results
      .filter((result) => result.values[key] === true)
      .map((result) => Number(result.values.celsius));
    if (passing.length === 0) return 'at none of the temperatures';
    if (passing.length === results.length) return 'at all of the temperatures';
    return `at ${passing.map((celsius) => formatQuantity(celsius, '°C')).join(', ')}`;
  };
  return [
    `With a fixed strobe and steady drive the requirement is met ${range('steadyFixedPass')}; with drives that follow by ${formatQuantity(coefficient, '1/K', 2)}, ${range('trackedFixedPass')}.`,
  ];
}
