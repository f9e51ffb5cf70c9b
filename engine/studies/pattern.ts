import { formatQuantity } from '../base/format-quantity.ts';
import { applyPatches, type Json, type Patch } from '../base/json-patch.ts';
import type { Cycle, Design, WindingKind } from '../design/design.ts';
import { halfSelectSum } from '../mat/half-select-law.ts';
import { storedBits, worstPattern } from '../mat/stored-pattern.ts';
import { polarityOf } from '../mat/winding.ts';
import { randomStream } from '../numerics/random.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { strobeUncertainties } from '../strobe/envelope.ts';
import { wholeMatFindings } from './pattern/pattern-words.ts';
import { evaluateWholeMat, isWholeMat, wholeMatPoints, WHOLE_MAT_RUNS } from './pattern/whole-mat.ts';
import { readOptions } from './shared/options.ts';
import {
  STUDY_CASES,
  endOfRead,
  finiteOrNull,
  fixedStrobe,
  nominalInForce,
  referred,
} from './shared/reading.ts';
import type { Column, Point, PointResult, StudyPart, StudyPlan, StudyTools } from './shared/shape.ts';

/**
 * Which stored pattern and which history hurt: checkerboard and its kin, the worst pattern of this winding and of
 * the others, each undisturbed and disturbed, and march programmes. A checkerboard is not the worst case by itself
 * (MIT memo M-2919, 1954, abstract read). Every pattern is read as ONE and as ZERO at the nominal strobe.
 */

type PatternName =
  | 'zeros'
  | 'ones'
  | 'checkerboard'
  | 'checkerboard, inverted'
  | 'double checkerboard'
  | 'row stripes'
  | 'column stripes'
  | 'quadrants'
  | `random ${number}`
  | `worst for a ${'ONE' | 'ZERO'}`
  | `worst for ${WindingKind}`
  | `march ${'up' | 'down'}, ${'ZERO to ONE' | 'ONE to ZERO'}`
  | `whole mat, ${string}`;

const PLAIN: readonly PatternName[] = [
  'zeros',
  'ones',
  'checkerboard',
  'checkerboard, inverted',
  'double checkerboard',
  'row stripes',
  'column stripes',
  'quadrants',
];
const MARCHES: readonly PatternName[] = [
  'march up, ZERO to ONE',
  'march up, ONE to ZERO',
  'march down, ZERO to ONE',
  'march down, ONE to ZERO',
];
const BALANCED: readonly WindingKind[] = ['shared-two-halves', 'separate-diagonal', 'separate-rectangular'];

export const pattern: StudyPart = {
  open: (plan, point, tools) => patternDesign(plan, point, tools, 1),

  plan(request, design, tools) {
    const options = readOptions(request);
    const seed = options.seed();
    const random = options.count('random', 4, 0, 100);
    const marches = options.flag('marches', true);
    const wholeMat = options.flag('wholeMat', false);
    const longest = options.count('marchCycles', 32, 1, 255);
    const cases = options.choice('cases', 'worst', STUDY_CASES);
    options.finish();
    const even = design.mat.rows % 2 === 0 && design.mat.columns % 2 === 0;
    const others = even ? BALANCED.filter((kind) => kind !== design.winding.kind) : [];
    const names: PatternName[] = [
      'worst for a ONE',
      'worst for a ZERO',
      ...PLAIN,
      ...others.map((kind) => `worst for ${kind}` as const),
      ...Array.from({ length: random }, (_, i) => `random ${i}` as const),
    ];
    const states = ['undisturbed', 'disturbed'] as const;
    const points: Point[] = [
      ...states.flatMap((state) => names.map((name) => patternPoint(name, state))),
      ...(marches ? MARCHES.map((name) => patternPoint(name, 'undisturbed')) : []),
      ...(wholeMat ? wholeMatPoints() : []),
    ];
    return {
      kind: 'pattern',
      design: request.design,
      options: { random, marches, marchCycles: longest, wholeMat, cases },
      seed,
      points,
      nominal: nominalInForce(design, cases, tools),
      runs:
        states.length * names.length * 2 +
        (marches ? MARCHES.length * longest * 3 : 0) +
        (wholeMat ? 3 * WHOLE_MAT_RUNS : 0),
    };
  },

  evaluate(plan, point, tools) {
    const { pattern: name, state } = point.inputs as { pattern: PatternName; state: Design['initialState'] };
    const checked = tools.checkDesign(applyPatches(plan.design, [...HISTORY_FREE, ...fixedStrobe(plan)]));
    const design: Design = { ...checked, initialState: state };
    if (isWholeMat(name)) return evaluateWholeMat(design, name, tools);
    const one = readBit(plan, design, name, 1, tools);
    const zero = readBit(plan, design, name, 0, tools);
    const { threshold } = design.detector;
    const { threshold: uncertainty } = strobeUncertainties(design);
    return {
      values: {
        pattern: name,
        state: name.startsWith('march') ? 'as the march leaves it' : state,
        one: finiteOrNull(one.value),
        zero: finiteOrNull(zero.value),
        marginOne: one.value - threshold - uncertainty,
        marginZero: threshold - zero.value - uncertainty,
        halfSelectOne: one.halfSelect,
        halfSelectZero: zero.halfSelect,
        count: one.count,
      },
    };
  },

  summarise(plan, results) {
    const least = extreme(results, 'one', (a, b) => a < b);
    const greatest = extreme(results, 'zero', (a, b) => a > b);
    const board = results.filter((result) => String(result.values.pattern).startsWith('checkerboard'));
    const boardZero = extreme(board, 'zero', (a, b) => a > b);
    return {
      findings: [
        ...(least
          ? [`The least ONE, ${formatQuantity(Number(least.values.one), 'V')}, is met with ${least.name}.`]
          : []),
        ...(greatest
          ? [
              `The greatest ZERO, ${formatQuantity(Number(greatest.values.zero), 'V')}, is met with ${greatest.name}.`,
            ]
          : []),
        ...(greatest && boardZero && greatest !== boardZero
          ? [
              `A checkerboard gives a ZERO of ${formatQuantity(Number(boardZero.values.zero), 'V')} at most: it is not the worst case here.`,
            ]
          : []),
        ...marchWords(plan),
        ...wholeMatFindings(results),
      ],
      estimates: [],
      columns: COLUMNS,
      series: [
        barSeries(results, 'one', 'ONE at the strobe'),
        barSeries(results, 'zero', 'ZERO at the strobe'),
      ],
      map: null,
      histogram: null,
      ranking: [...results]
        .sort((a, b) => worstMargin(a) - worstMargin(b))
        .map((result) => ({
          name: result.name,
          path: String(result.values.pattern),
          value: worstMargin(result),
          unit: 'V',
          point: result.index,
          note:
            Number(result.values.marginOne) < Number(result.values.marginZero)
              ? 'margin of the ONE'
              : 'margin of the ZERO',
        })),
      open: [least, greatest].flatMap((result, i) =>
        result ? [{ point: result.index, why: i === 0 ? 'least ONE' : 'greatest ZERO' }] : [],
      ),
    };
  },
};

/** What the short marches are not. */
function marchWords({ options }: StudyPlan): string[] {
  if (options.marches !== true) return [];
  const short = `A march here is the last ${Number(options.marchCycles)} cycles at most on the row and column of the one core that is read`;
  return [
    options.wholeMat === true
      ? `${short}; those over the whole mat follow.`
      : `${short}, not over every address: option wholeMat runs march and checkerboard over the whole mat.`,
  ];
}

const COLUMNS: readonly Column[] = [
  { key: 'pattern', label: 'pattern', unit: 'text' },
  { key: 'state', label: 'history', unit: 'text' },
  { key: 'one', label: 'ONE at the strobe', unit: 'V' },
  { key: 'zero', label: 'ZERO at the strobe', unit: 'V' },
  { key: 'marginOne', label: 'margin of the ONE', unit: 'V' },
  { key: 'marginZero', label: 'margin of the ZERO', unit: 'V' },
  { key: 'halfSelectOne', label: 'half-selected cores at the strobe, ONE', unit: 'V' },
  { key: 'halfSelectZero', label: 'half-selected cores at the strobe, ZERO', unit: 'V' },
  { key: 'count', label: 'half-selected ONEs, signed by winding', unit: '' },
  { key: 'reads', label: 'reads over the whole mat', unit: '' },
  { key: 'wrong', label: 'of them wrong', unit: '' },
];

/** Patterns are the study's own, so what the design stores and did before goes. */
const HISTORY_FREE: readonly Patch[] = [{ path: '/programme' }, { path: '/stored' }];

function patternPoint(name: PatternName, state: Design['initialState']): Point {
  return {
    name: name.startsWith('march') ? name : `${name}, ${state}`,
    patches: [],
    inputs: { pattern: name, state },
  };
}

interface BitReading {
  readonly value: number;
  readonly halfSelect: number;
  readonly count: number;
}

function readBit(
  plan: StudyPlan,
  base: Design,
  name: PatternName,
  bit: 0 | 1,
  tools: StudyTools,
): BitReading {
  const { design, bits } = arrange(plan, base, name, bit);
  const run = tools.simulate(design, {
    bits,
    estimateError: false,
    balance: false,
    until: endOfRead(design),
  });
  if (run.outcome.kind !== 'done') throw new Error(run.outcome.advice);
  const seen = (design.strobe.time ?? 0) - design.detector.delay;
  const parts = run.contributions;
  if (!parts) throw new Error('The run was not split by cause.');
  return {
    value: valueAt(run.time, referred(run), seen),
    halfSelect:
      valueAt(run.time, parts.halfSelectedReversible, seen) +
      valueAt(run.time, parts.halfSelectedIrreversible, seen),
    count: halfSelectSum(polarityOf(design.mat, design.winding), bits, design.mat, design.selected, 1, 0),
  };
}

/** Stored bits and, for a march, the cycles that lead to the observed read. */
function arrange(
  plan: StudyPlan,
  base: Design,
  name: PatternName,
  bit: 0 | 1,
): { design: Design; bits: Uint8Array } {
  if (isWholeMat(name))
    return { design: { ...base, selected: { ...base.selected, bit } }, bits: storedBits(base) };
  const selected = { ...base.selected, bit };
  const design: Design = { ...base, selected };
  const bits = bitsOf(design, name, plan.seed);
  bits[selected.row * design.mat.columns + selected.column] = bit;
  if (!name.startsWith('march')) return { design, bits };
  const programme = [...marchCycles(plan, design, name), base.programme.at(-1)!];
  return { design: { ...design, programme }, bits };
}

/**
 * The cycles of one march element before it reaches the selected core, of those on its row and column, for no
 * others reach its half-selected cores: each is read and written the other way, in the order of addresses.
 */
function marchCycles(plan: StudyPlan, { mat, selected }: Design, name: PatternName): Cycle[] {
  const own = selected.row * mat.columns + selected.column;
  const up = name.includes('up');
  const cycles: Cycle[] = [];
  for (let core = 0; core < mat.rows * mat.columns; core++) {
    const [row, column] = [Math.floor(core / mat.columns), core % mat.columns];
    const onLine = (row === selected.row) !== (column === selected.column);
    if (!onLine || (up ? core > own : core < own)) continue;
    cycles.push({ row, column, lines: 'both', read: true, write: name.includes('to ONE') ? 'one' : 'zero' });
  }
  return (up ? cycles : cycles.reverse()).slice(-Number(plan.options.marchCycles));
}

function bitsOf(design: Design, name: PatternName, seed: number): Uint8Array {
  const { rows, columns } = design.mat;
  const fill = (bit: (row: number, column: number) => number): Uint8Array =>
    Uint8Array.from({ length: rows * columns }, (_, i) => bit(Math.floor(i / columns), i % columns));
  switch (name) {
    case 'zeros':
    case 'march up, ZERO to ONE':
    case 'march down, ZERO to ONE':
      return fill(() => 0);
    case 'ones':
    case 'march up, ONE to ZERO':
    case 'march down, ONE to ZERO':
      return fill(() => 1);
    case 'checkerboard':
      return fill((r, c) => (r + c) % 2);
    case 'checkerboard, inverted':
      return fill((r, c) => (r + c + 1) % 2);
    case 'double checkerboard':
      return fill((r, c) => ((r >> 1) + (c >> 1)) % 2);
    case 'row stripes':
      return fill((r) => r % 2);
    case 'column stripes':
      return fill((_, c) => c % 2);
    case 'quadrants':
      return fill((r, c) => (r < rows / 2 === c < columns / 2 ? 1 : 0));
    case 'worst for a ONE':
      return worstPattern(design, 'one');
    case 'worst for a ZERO':
      return worstPattern(design, 'zero');
    default: {
      if (name.startsWith('random ')) {
        const next = randomStream(seed, Number(name.slice('random '.length)));
        return fill(() => (next() < 0.5 ? 0 : 1));
      }
      const kind = name.slice('worst for '.length) as WindingKind;
      return worstPattern({ ...design, winding: { kind, segments: 1 } }, 'zero');
    }
  }
}

function extreme(
  results: readonly PointResult[],
  key: string,
  beats: (a: number, b: number) => boolean,
): PointResult | undefined {
  return results.reduce<PointResult | undefined>(
    (best, result) => (!best || beats(Number(result.values[key]), Number(best.values[key])) ? result : best),
    undefined,
  );
}

const worstMargin = ({ values }: PointResult): number =>
  Math.min(Number(values.marginOne), Number(values.marginZero));

function barSeries(results: readonly PointResult[], key: string, name: string) {
  return {
    name,
    panel: 'at the strobe',
    xLabel: 'pattern',
    xUnit: '',
    yLabel: 'u',
    yUnit: 'V',
    x: results.map((_, i) => i),
    y: results.map((result) => Number(result.values[key])),
    point: results.map((result) => result.index),
    role: 'data' as const,
  };
}

/** The design of a pattern's point as a file, read as a ONE: what the page opens. */
function patternDesign(plan: StudyPlan, point: Point, tools: StudyTools, bit: 0 | 1): Json {
  const { pattern: name, state } = point.inputs as { pattern: PatternName; state: Design['initialState'] };
  const base = tools.checkDesign(applyPatches(plan.design, [...HISTORY_FREE, ...fixedStrobe(plan)]));
  const { design, bits } = arrange(plan, base, name, bit);
  const { rows, columns } = design.mat;
  const stored = Array.from({ length: rows }, (_, r) => bits.slice(r * columns, (r + 1) * columns).join(''));
  return applyPatches(plan.design, [
    ...HISTORY_FREE,
    ...fixedStrobe(plan),
    { path: '/stored', value: { kind: 'custom', rows: stored } },
    { path: '/selected', value: { row: design.selected.row, column: design.selected.column, bit } },
    { path: '/initialState', value: state },
    ...(design.programme.length > 1
      ? [{ path: '/programme', value: design.programme as unknown as Json }]
      : []),
  ]);
}
