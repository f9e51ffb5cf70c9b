import { formatQuantity } from '../base/format-quantity.ts';
import { applyPatches, type Json, type Patch } from '../base/json-patch.ts';
import { atTemperature, elasticSlope } from '../core/model.ts';
import type { Design, WindingKind } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { steepest } from '../drive/line-voltage.ts';
import { countHalfSelected, halfSelectExtremes } from '../mat/half-select-law.ts';
import { polarityOf } from '../mat/winding.ts';
import { senseResistance } from '../mat/wire-at-temperature.ts';
import { wireDelay, wireImpedance } from '../network/sections.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { Simulation } from '../solver/result.ts';
import { readOptions, refuseOption } from './shared/options.ts';
import { runWork } from './shared/price.ts';
import {
  STUDY_CASES,
  casesOf,
  fixedStrobe,
  freeStrobe,
  makeReader,
  nominalInForce,
  readEnvelope,
  runCases,
  runsPerReading,
} from './shared/reading.ts';
import type { Column, Point, PointResult, Series, StudyPart, StudyPlan, StudyTools } from './shared/shape.ts';

/**
 * How a build grows: mat size times winding, half-select noise beside the counting law of half-select-law.ts, and
 * the largest square mat of each winding that still meets the requirement.
 */

const WINDINGS: readonly WindingKind[] = [
  'shared-one-run',
  'shared-two-halves',
  'separate-diagonal',
  'separate-rectangular',
];
const WORDS: Readonly<Record<WindingKind, string>> = {
  'shared-one-run': 'shared, one run',
  'shared-two-halves': 'shared, two halves',
  'separate-diagonal': 'separate, diagonal',
  'separate-rectangular': 'separate, rectangular',
  custom: 'custom',
};
const LARGEST = 128;
/** Mats that the search for the largest reads: both ends, and five halvings of 62 even sizes between them, rounded up. */
const LARGEST_READINGS = 8;
const SIZES: readonly (readonly [number, number])[] = [4, 8, 16, 32, 64, LARGEST].map((n) => [n, n] as const);

export const scale: StudyPart = {
  plan(request, design, tools) {
    const options = readOptions(request);
    const seed = options.seed();
    const sizes = options.list('sizes', 40, readSize) ?? [...SIZES];
    const windings =
      options.list('windings', WINDINGS.length, (value, field) => {
        const found = WINDINGS.find((kind) => kind === value);
        return found ?? refuseOption(field, `one of ${WINDINGS.join(', ')}`, value, 'name one of them');
      }) ?? WINDINGS;
    const strobe = options.choice('strobe', 'best', ['best', 'fixed']);
    const cases = options.choice('cases', 'worst', STUDY_CASES);
    const largest = options.flag('largest', true);
    options.finish();
    const points: Point[] = windings.flatMap((kind) => [
      ...sizes.map(([rows, columns]) => ({
        name: `${rows} × ${columns}, ${WORDS[kind]}`,
        patches: matPatches(request.design, design, rows, columns, kind),
        inputs: { rows, columns, winding: kind },
      })),
      ...(largest
        ? [{ name: `largest mat, ${WORDS[kind]}`, patches: [], inputs: { largest: true, winding: kind } }]
        : []),
    ]);
    return {
      kind: 'scale',
      design: request.design,
      options: { sizes, windings, strobe, cases, largest },
      seed,
      points,
      nominal: strobe === 'fixed' ? nominalInForce(design, cases, tools) : null,
      runs: windings.length * (sizes.length + (largest ? LARGEST_READINGS : 0)) * runsPerReading(cases),
    };
  },

  price(plan, tools) {
    const nominal = tools.checkDesign(plan.design);
    const work = (rows: number, columns: number, kind: WindingKind): number =>
      runWork(plan.design, matPatches(plan.design, nominal, rows, columns, kind), tools);
    const readings = plan.points.map(({ inputs }) => {
      const kind = inputs.winding as WindingKind;
      if (inputs.largest === true) return LARGEST_READINGS * work(LARGEST, LARGEST, kind);
      return work(Number(inputs.rows), Number(inputs.columns), kind);
    });
    return runsPerReading(casesOf(plan)) * readings.reduce((a, b) => a + b, 0);
  },

  evaluate(plan, point, tools) {
    return point.inputs.largest === true ? largestMat(plan, point, tools) : oneMat(plan, point, tools);
  },

  summarise(plan, results) {
    const mats = results.filter((result) => result.values.largest === null);
    const limits = results.filter((result) => result.values.largest !== null);
    return {
      findings: limits.map((result) => String(result.values.finding)),
      estimates: [],
      columns: COLUMNS,
      series: (plan.options.windings as readonly WindingKind[]).flatMap((kind) =>
        windingSeries(
          kind,
          mats.filter((result) => result.values.winding === kind),
        ),
      ),
      map: null,
      histogram: null,
      ranking: [],
    };
  },
};

const COLUMNS: readonly Column[] = [
  { key: 'winding', label: 'winding', unit: 'text' },
  { key: 'rows', label: 'rows', unit: '' },
  { key: 'columns', label: 'columns', unit: '' },
  { key: 'halfSelected', label: 'half-selected cores', unit: '' },
  { key: 'halfSelectPeak', label: 'half-select noise, peak', unit: 'V' },
  { key: 'lawPeak', label: 'counting law, peak', unit: 'V' },
  { key: 'lawHalfSpread', label: 'counting law, half-spread over patterns', unit: 'V' },
  { key: 'halfSelectAtStrobe', label: 'half-select noise at the strobe', unit: 'V' },
  { key: 'one', label: 'least ONE at the strobe', unit: 'V' },
  { key: 'zero', label: 'greatest ZERO at the strobe', unit: 'V' },
  { key: 'margin', label: 'margin', unit: 'V' },
  { key: 'width', label: 'strobe window', unit: 's' },
  { key: 'strobe', label: 'strobe', unit: 's' },
  { key: 'delay', label: 'line delay, one way', unit: 's' },
  { key: 'attenuation', label: 'line attenuation', unit: 'dB' },
  { key: 'pass', label: 'meets the requirement', unit: 'text' },
  { key: 'reason', label: 'why not', unit: 'text' },
];

function oneMat(plan: StudyPlan, point: Point, tools: StudyTools): Omit<PointResult, 'index' | 'name'> {
  const strobe = plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe;
  const design = tools.checkDesign(applyPatches(plan.design, [...point.patches, ...strobe]));
  const { envelope, runs } = runCases(design, casesOf(plan), tools, true);
  const reading = readEnvelope(design, envelope);
  const zeros = runs.filter((run) => run.design.selected.bit === 0);
  const { mat } = design;
  const cores = (mat.rows * mat.columns) / design.winding.segments;
  const counts = countHalfSelected(polarityOf(mat, design.winding), mat, design.selected);
  const law = halfSelectExtremes(counts, elasticPeak(design, 1), elasticPeak(design, 0));
  const seen = reading.strobe - design.detector.delay;
  return {
    values: {
      winding: design.winding.kind,
      rows: mat.rows,
      columns: mat.columns,
      halfSelected: counts.same + counts.opposite,
      halfSelectPeak: Math.max(...zeros.map(halfSelectPeak)),
      lawPeak: Math.max(Math.abs(law.high), Math.abs(law.low)),
      lawHalfSpread: law.halfSpread,
      halfSelectAtStrobe: Math.max(...zeros.map((run) => Math.abs(halfSelectAt(run, seen)))),
      one: reading.one,
      zero: reading.zero,
      margin: reading.margin,
      width: reading.width,
      strobe: reading.strobe,
      delay: wireDelay(design, cores),
      attenuation: (20 / Math.LN10) * ((cores * senseResistance(design)) / (2 * wireImpedance(design))),
      pass: reading.pass,
      reason: reading.reason,
      largest: null,
    },
  };
}

/** Greatest size of the half-selected cores' part of the sense voltage during the read, V. */
function halfSelectPeak(run: Simulation): number {
  const { halfSelectedReversible: elastic, halfSelectedIrreversible: rest } = partsOf(run);
  let peak = 0;
  for (let i = 0; i < run.time.length && run.time[i]! < run.design.cycle.readWidth; i++)
    peak = Math.max(peak, Math.abs(elastic[i]! + rest[i]!));
  return peak;
}

function halfSelectAt(run: Simulation, t: number): number {
  const { halfSelectedReversible: elastic, halfSelectedIrreversible: rest } = partsOf(run);
  return valueAt(run.time, elastic, t) + valueAt(run.time, rest, t);
}

function partsOf(run: Simulation): NonNullable<Simulation['contributions']> {
  if (!run.contributions) throw new Error('The run was not split by cause.');
  return run.contributions;
}

/**
 * Peak EMF of one half-selected core on the read edge that comes from its elastic part alone, V: slope of the
 * elastic flux at full half-select drive times the steepest dI/dt. A core whose ONE is pushed toward the knee
 * answers more.
 */
function elasticPeak(design: Design, bit: 0 | 1): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const perLine = (name: 'x' | 'y'): number => {
    const line = design.drive[name];
    const amplitude = driveLevels(design)[name].read;
    const slope = elasticSlope(p, -amplitude, bit === 1 ? p.remanentFlux : -p.remanentFlux);
    return (slope * amplitude * steepest(line.edge)) / line.rise;
  };
  return Math.max(perLine('x'), perLine('y'));
}

/** Halving over even sizes from 4 to 128; the margin is taken to fall as the mat grows. */
function largestMat(plan: StudyPlan, point: Point, tools: StudyTools): Omit<PointResult, 'index' | 'name'> {
  const kind = point.inputs.winding as WindingKind;
  const nominal = tools.checkDesign(plan.design);
  const strobe = plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe;
  const reader = makeReader(plan, tools);
  const reasons = new Map<number, string>();
  const passes = (n: number): boolean => {
    const patches = matPatches(plan.design, nominal, n, n, kind);
    try {
      const reading = reader.read([...patches, ...strobe]);
      reasons.set(n, reading.reason);
      return reading.pass;
    } catch (error) {
      reasons.set(n, error instanceof Error ? error.message : String(error));
      return false;
    }
  };
  const { margin, width } = nominal.requirement;
  const wanted = `${formatQuantity(margin, 'V')} of margin and ${formatQuantity(width, 's')} of window`;
  const answer = (largest: number, finding: string) => ({
    values: { winding: kind, rows: largest || null, columns: largest || null, largest, finding },
  });
  const words = WORDS[kind];
  if (!passes(4)) return answer(0, `${words}: even a 4 × 4 mat does not keep ${wanted} (${reasons.get(4)}).`);
  if (passes(LARGEST))
    return answer(LARGEST, `${words}: ${LARGEST} × ${LARGEST}, the largest that is tried, keeps ${wanted}.`);
  let [good, bad] = [4, LARGEST];
  while (bad - good > 2) {
    const middle = 2 * Math.round((good + bad) / 4);
    if (passes(middle)) good = middle;
    else bad = middle;
  }
  return answer(
    good,
    `${words}: the largest square mat that keeps ${wanted} is ${good} × ${good}; ${bad} × ${bad} fails (${reasons.get(bad)}).`,
  );
}

/** Another size keeps the selected core at the same fraction of rows and columns; what names single cores is dropped. */
function matPatches(raw: Json, design: Design, rows: number, columns: number, kind: WindingKind): Patch[] {
  const { mat, selected } = design;
  const stored = (raw as { stored?: { kind?: string } }).stored?.kind;
  return [
    { path: '/mat/rows', value: rows },
    { path: '/mat/columns', value: columns },
    { path: '/winding', value: { kind } },
    { path: '/selected/row', value: Math.floor((selected.row * rows) / mat.rows) },
    { path: '/selected/column', value: Math.floor((selected.column * columns) / mat.columns) },
    { path: '/programme' },
    { path: '/exceptions' },
    ...(stored === 'custom' ? [{ path: '/stored' }] : []),
  ];
}

function windingSeries(kind: WindingKind, mats: readonly PointResult[]): Series[] {
  const sorted = [...mats].sort((a, b) => Number(a.values.halfSelected) - Number(b.values.halfSelected));
  const line = (
    key: string,
    panel: string,
    yLabel: string,
    yUnit: string,
    role: Series['role'] = 'data',
  ): Series => ({
    name: `${WORDS[kind]}${role === 'law' ? ', counting law' : ''}`,
    panel,
    xLabel: 'half-selected cores',
    xUnit: '',
    yLabel,
    yUnit,
    x: sorted.map((result) => Number(result.values.halfSelected)),
    y: sorted.map((result) => (typeof result.values[key] === 'number' ? Number(result.values[key]) : null)),
    point: sorted.map((result) => result.index),
    role,
  });
  return [
    line('halfSelectPeak', 'half-select noise, peak', 'u', 'V'),
    line('lawPeak', 'half-select noise, peak', 'u', 'V', 'law'),
    line('halfSelectAtStrobe', 'half-select noise at the strobe', 'u', 'V'),
    line('one', 'least ONE', 'u', 'V'),
    line('margin', 'margin', 'margin', 'V'),
    line('width', 'strobe window', 'width', 's'),
    line('delay', 'line delay', 'delay', 's'),
    line('attenuation', 'line attenuation', 'attenuation', 'dB'),
  ];
}

/** `[rows, columns]` or one number for a square. */
function readSize(value: Json, field: string): readonly [number, number] {
  const sides = typeof value === 'number' ? [value, value] : value;
  if (
    Array.isArray(sides) &&
    sides.length === 2 &&
    sides.every((n) => Number.isInteger(n) && n >= 2 && n <= LARGEST)
  )
    return [sides[0] as number, sides[1] as number];
  return refuseOption(
    field,
    `a side or [rows, columns] from 2 to ${LARGEST}`,
    value,
    'write for example 16 or [16, 32]',
  );
}
