import { applyPatches, type Json, type Patch } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { strobeUncertainties } from '../../strobe/envelope.ts';
import { readOptions } from '../shared/options.ts';
import { finiteOrNull, fixedStrobe, nominalInForce } from '../shared/reading.ts';
import type { Point, StudyPart, StudyPlan, StudyTools } from '../shared/shape.ts';
import { extremes, worstMargin } from './extremes.ts';
import { patternOptions, type PatternOptions } from './pattern-options.ts';
import {
  COLUMNS,
  EXTREMES,
  marchWords,
  marginWord,
  patternFindings,
  patternSeries,
  wholeMatFindings,
} from './pattern-words.ts';
import { readBit } from './read-bit.ts';
import { PLAIN, MARCHES, BALANCED, arrange, type PatternName } from './stored-patterns.ts';
import { evaluateWholeMat, isWholeMat, wholeMatPoints, WHOLE_MAT_RUNS } from './whole-mat.ts';

export const pattern: StudyPart<PatternOptions> = {
  options: patternOptions,

  open: (plan, point, tools) => patternDesign(plan, point, tools, 1),

  plan(request, design, tools) {
    const { seed, random, marches, marchCycles, wholeMat, cases } = readOptions(request, patternOptions);
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
      options: { random, marches, marchCycles, wholeMat, cases },
      seed,
      points,
      nominal: nominalInForce(design, cases, tools),
      runs:
        states.length * names.length * 2 +
        (marches ? MARCHES.length * marchCycles * 3 : 0) +
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
    const { least, greatest } = extremes(results);
    return {
      findings: [...patternFindings(results), ...marchWords(plan), ...wholeMatFindings(results)],
      estimates: [],
      columns: COLUMNS,
      series: patternSeries(results),
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
          note: marginWord(result),
        })),
      open: [least, greatest].flatMap((result, i) =>
        result ? [{ point: result.index, why: EXTREMES[i] }] : [],
      ),
    };
  },
};

/** Patterns are the study's own, so what the design stores and did before goes. */
const HISTORY_FREE: readonly Patch[] = [{ path: '/programme' }, { path: '/stored' }];

function patternPoint(name: PatternName, state: Design['initialState']): Point {
  return {
    name: name.startsWith('march') ? name : `${name}, ${state}`,
    patches: [],
    inputs: { pattern: name, state },
  };
}

/** The design of a pattern's point as a file, read as a ONE: what the page opens. */
function patternDesign(plan: StudyPlan<PatternOptions>, point: Point, tools: StudyTools, bit: 0 | 1): Json {
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
