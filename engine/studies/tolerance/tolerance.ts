import { formatQuantity } from '../../base/format-quantity.ts';
import { applyPatches, type Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import {
  mean,
  median,
  normalQuantile,
  quantile,
  standardDeviation,
  wilsonInterval,
} from '../../numerics/statistics.ts';
import { valueAt } from '../../sense-amplifier/detector.ts';
import { overridesOf, type CaseSpec } from '../../strobe/case-overrides.ts';
import { formatEstimate } from '../shared/format-estimate.ts';
import { readOptions, refuseOption } from '../shared/options.ts';
import { STUDY_CASES, referred, runCases, strobeInForce, type StudyRuns } from '../shared/reading.ts';
import type {
  Column,
  Estimate,
  Histogram,
  Point,
  PointResult,
  StudyPart,
  StudyPlan,
  StudyTools,
} from '../shared/shape.ts';
import { MOST_DRAWS, drawShared, type SharedDraw } from './draw.ts';
import {
  BEFORE,
  defaultBefore,
  drivenByVoltage,
  makeBuild,
  ownCore,
  programmeOf,
  readMargin,
  type Before,
  type Build,
  type Reads,
} from './read.ts';
import {
  MOST_READS,
  RULE_RUNS,
  fitStackRules,
  judgeStack,
  type StackRules,
  type StackVerdict,
} from './stack.ts';
import { varianceShares, type VarianceShare } from './variance-shares.ts';
import { yieldOf } from './yields.ts';

/**
 * Parts as they come: each draw is one build with its own drives, edges, terminations, threshold, strobe,
 * temperature and cores. One bit of it, chosen at random, is read as ONE and as ZERO under the winding's worst
 * patterns (yield per bit); and, when asked, all bits of the stack are judged, the weakest of them by full reads
 * (yield per stack, studies/tolerance/stack.ts). A draw depends on (design, seed, draw) alone.
 */

export const tolerance: StudyPart = {
  open: drawDesign,

  plan(request, design, tools) {
    const options = readOptions(request);
    const seed = options.seed();
    const draws = options.count('draws', 1000, 2, MOST_DRAWS);
    const stack = options.flag('stack', true);
    const worst = options.count('worst', 10, 1, 1000);
    const cases = options.choice('cases', 'worst', STUDY_CASES);
    const before = options.choice('before', defaultBefore(design), BEFORE);
    options.finish();
    if (before === 'core' && drivenByVoltage(design))
      refuseOption(
        '/options/before',
        'cycle or nothing where a line is driven by a voltage',
        before,
        'its current is known from the whole cycle alone',
      );
    const nominal = runCases(design, cases, tools, false);
    const inForce = strobeInForce(nominal);
    const reads = worstReads(nominal, inForce.time);
    const where = { strobe: inForce.time, seed };
    const rules = stack ? fitStackRules(request.design, design, { reads, before }, where, tools) : null;
    const points: Point[] = Array.from({ length: draws }, (_, draw) => ({
      name: `draw ${draw}`,
      patches: [],
      inputs: { draw },
    }));
    return {
      kind: 'tolerance',
      design: request.design,
      options: {
        draws,
        stack,
        worst,
        cases,
        before,
        reads: reads as unknown as Json,
        rules: rules as unknown as Json,
      },
      seed,
      points,
      nominal: inForce,
      runs: (draws * (stack ? 2 + 2 * MOST_READS : 2) + (stack ? RULE_RUNS : 0)) * COST_OF[before],
    };
  },

  evaluate(plan, point, tools) {
    const draw = drawOf(plan, point, tools);
    const how = howOf(plan);
    const at = { mat: 0, core: draw.address };
    const read = (bit: 0 | 1): number => readMargin(draw.build, how, at, bit, tools);
    const bit = { one: read(1), zero: read(0) };
    const cores = draw.build.cores(0);
    const own = Object.fromEntries(PARTS.map((part) => [OWN[part], cores[part][draw.address]!]));
    const rules = plan.options.rules as unknown as StackRules | null;
    const stack = rules ? judgeStack(draw.build, how, rules, at, bit, tools) : undefined;
    const { columns } = draw.build.design.mat;
    return {
      values: {
        ...Object.fromEntries(SHARED.map(([key]) => [key, draw.shared[key]])),
        ...own,
        row: Math.floor(draw.address / columns),
        column: draw.address % columns,
        one: bit.one,
        zero: bit.zero,
        margin: Math.min(bit.one, bit.zero),
        pass: bit.one >= 0 && bit.zero >= 0,
        stackMargin: stack?.least ?? null,
        stackReads: stack?.reads ?? null,
        stack: stack?.verdict ?? null,
      },
    };
  },

  summarise(plan, results) {
    const margins = results.map((result) => Number(result.values.margin));
    const stacks = results.filter((result) => typeof result.values.stack === 'string');
    const worst = [...results]
      .sort((a, b) => Number(a.values.margin) - Number(b.values.margin))
      .slice(0, Number(plan.options.worst));
    const shares = (['one', 'zero'] as const).map((side) => ({ side, ...sharesOf(results, side) }));
    const estimates = [
      bitYield(results, plan),
      ...(stacks.length > 0 ? [stackYield(stacks, plan)] : []),
      ...(margins.length > 1 ? [meanOf(margins, plan)] : []),
    ];
    return {
      findings: [
        ...estimates.map((estimate) => `${capital(formatEstimate(estimate))}.`),
        ...(margins.length > 0
          ? [
              `Margin of a bit: median ${formatQuantity(median(margins), 'V')}, 1 % of bits under ${formatQuantity(quantile(margins, 0.01), 'V')}, least ${formatQuantity(leastOf(margins), 'V')} (draw ${String(worst[0]?.index)}).`,
            ]
          : []),
        ...shares.flatMap(({ side, shares: list }) => leading(side, list)),
        'A bit passes when over the whole aperture its ONE is above and its ZERO below the drawn threshold and half the hysteresis.',
        BEFORE_WORDS[plan.options.before as Before],
        ...(stacks.length > 0 ? stackWords(stacks, plan) : []),
      ],
      estimates,
      columns: COLUMNS,
      series: [],
      map: null,
      histogram: margins.length > 1 ? histogramOf(margins) : null,
      ranking: shares.flatMap(({ side, shares: list, rest }) => [
        ...list.map(({ name, effect, share }) => ({
          name,
          path: side,
          value: share,
          unit: '',
          note: `share of the variance of the ${WORD[side]} margin; one standard deviation moves it by ${formatQuantity(effect, 'V', 2)}`,
        })),
        ...(list.length > 0
          ? [
              {
                name: 'other cores, curvature and interplay',
                path: side,
                value: rest,
                unit: '',
                note: `rest of the variance of the ${WORD[side]} margin`,
              },
            ]
          : []),
      ]),
      open: worst.map((result) => ({
        point: result.index,
        why: `margin ${formatQuantity(Number(result.values.margin), 'V')}`,
      })),
    };
  },
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const WORD = { one: 'ONE', zero: 'ZERO' } as const;

const PARTS = ['threshold', 'flux', 'elastic'] as const;
const OWN = { threshold: 'ownThreshold', flux: 'ownFlux', elastic: 'ownElastic' } as const;

const SHARED: readonly (readonly [key: keyof SharedDraw, label: string, unit: string])[] = [
  ['driveX', 'X drive, factor', ''],
  ['driveY', 'Y drive, factor', ''],
  ['inhibit', 'inhibit, factor', ''],
  ['edgeX', 'X edges, factor', ''],
  ['edgeY', 'Y edges, factor', ''],
  ['terminationA', 'termination A, factor', ''],
  ['terminationB', 'termination B, factor', ''],
  ['threshold', 'threshold, factor', ''],
  ['strobe', 'strobe, off by', 's'],
  ['temperature', 'temperature, off by', 'K'],
  ['supply', 'supply, factor', ''],
];

const COLUMNS: readonly Column[] = [
  ...SHARED.map(([key, label, unit]) => ({ key, label, unit })),
  { key: OWN.threshold, label: 'core threshold, factor', unit: '' },
  { key: OWN.flux, label: 'core flux, factor', unit: '' },
  { key: OWN.elastic, label: 'core elastic part, factor', unit: '' },
  { key: 'row', label: 'row', unit: '' },
  { key: 'column', label: 'column', unit: '' },
  { key: 'one', label: 'margin of the ONE', unit: 'V' },
  { key: 'zero', label: 'margin of the ZERO', unit: 'V' },
  { key: 'margin', label: 'margin', unit: 'V' },
  { key: 'pass', label: 'bit passes', unit: 'text' },
  { key: 'stackMargin', label: 'least margin read in the stack', unit: 'V' },
  { key: 'stackReads', label: 'bits of the stack read besides', unit: '' },
  { key: 'stack', label: 'stack', unit: 'text' },
];

/** Runs that a read costs with what goes before it, from above. */
const COST_OF: Readonly<Record<Before, number>> = { core: 1, cycle: 2, nothing: 1 };

const BEFORE_WORDS: Readonly<Record<Before, string>> = {
  core: 'Before each read the inhibit current has disturbed the core that is read: a ZERO was kept by its own inhibited write, a ONE heard one at another address; what inhibit leaves on the wire is not in it.',
  cycle:
    'Each read follows an inhibited cycle, run in full: for a ZERO its own write, for a ONE a write at another address.',
  nothing: 'No cycle goes before the reads, so the inhibit current is not felt.',
};

interface Draw {
  readonly shared: SharedDraw;
  /** Core of the bit that is read. */
  readonly address: number;
  readonly build: Build;
}

function drawOf(plan: StudyPlan, point: Point, tools: StudyTools): Draw {
  const nominal = tools.checkDesign(plan.design);
  const index = Number(point.inputs.draw);
  const shared = drawShared(nominal, plan.seed, index);
  const drawn = { shared, seed: plan.seed, index };
  return {
    shared,
    address: Math.floor(shared.address * nominal.mat.rows * nominal.mat.columns),
    build: makeBuild(plan.design, nominal, drawn, plan.nominal?.time ?? 0, tools),
  };
}

const howOf = ({ options }: StudyPlan): { readonly reads: Reads; readonly before: Before } => ({
  reads: options.reads as unknown as Reads,
  before: options.before as Before,
});

function worstReads({ design, runs, specs }: StudyRuns, strobe: number): Reads {
  const seen = strobe - design.detector.delay;
  const values = runs.map((run) => valueAt(run.time, referred(run), seen));
  const worst = (bit: 0 | 1): CaseSpec => {
    const sign = bit === 1 ? 1 : -1;
    const own = specs.flatMap((spec, i) => (spec.bit === bit ? [i] : []));
    return specs[own.reduce((a, b) => (sign * values[b]! < sign * values[a]! ? b : a))]!;
  };
  const pick = ({ pattern, state }: CaseSpec) => ({ pattern, state });
  return { one: pick(worst(1)), zero: pick(worst(0)) };
}

function bitYield(results: readonly PointResult[], { seed }: StudyPlan): Estimate {
  const samples = results.length;
  const passing = results.filter((result) => result.values.pass === true).length;
  const value = samples > 0 ? passing / samples : 0;
  const { low, high } = wilsonInterval(passing, samples);
  return { label: 'yield per bit', unit: '', value, low, high, interval: '95 % Wilson', samples, seed };
}

/** Doubtful draws fail at the low end of the interval and pass at its high end. */
function stackYield(stacks: readonly PointResult[], { seed }: StudyPlan): Estimate {
  const verdicts = stacks.map(({ values }) => values.stack as StackVerdict['verdict']);
  const doubtful = verdicts.filter((verdict) => verdict === 'doubtful').length;
  const { yield: value, low, high } = yieldOf(verdicts);
  return {
    label: 'yield per stack',
    unit: '',
    value,
    low,
    high,
    interval: doubtful > 0 ? '95 % Wilson, doubtful draws either way' : '95 % Wilson',
    samples: stacks.length,
    seed,
  };
}

function stackWords(stacks: readonly PointResult[], plan: StudyPlan): string[] {
  const { one, zero } = plan.options.rules as unknown as StackRules;
  const doubtful = stacks.filter(({ values }) => values.stack === 'doubtful').length;
  const off = (error: number): string => formatQuantity(error, 'V', 2);
  return [
    'A stack passes when all its bits do; drives, edges, terminations, threshold, strobe, temperature and supply of a draw are the same for all of them.',
    `Its weakest bits are found by an estimate (off by ${off(one.error)} rms for a ONE and ${off(zero.error)} for a ZERO on reads held back) and read in full, until the next is clear of the limit by three of these errors and twice the greatest miss in that draw.`,
    doubtful === 0
      ? `No draw stays doubtful after ${MOST_READS} such reads of either bit.`
      : `${doubtful} of ${stacks.length} draws stay doubtful after ${MOST_READS} such reads of either bit.`,
  ];
}

function meanOf(margins: readonly number[], plan: StudyPlan): Estimate {
  const value = mean(margins);
  const half = (normalQuantile(0.975) * standardDeviation(margins)) / Math.sqrt(margins.length);
  return {
    label: 'mean margin of a bit',
    unit: 'V',
    value,
    low: value - half,
    high: value + half,
    interval: '95 % normal',
    samples: margins.length,
    seed: plan.seed,
  };
}

/** Least value, of a list too long for Math.min. */
const leastOf = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b), Infinity);

/** Even bins, as many as the square root of the count says, with an edge where pass begins. */
function histogramOf(margins: readonly number[]): Histogram {
  const low = Math.min(leastOf(margins), 0);
  const high = Math.max(-leastOf(margins.map((m) => -m)), 0);
  const wanted = Math.max(5, Math.min(60, Math.ceil(Math.sqrt(margins.length))));
  const width = (high - low) / wanted || 1e-3;
  const below = Math.ceil(-low / width - 1e-9);
  const above = Math.max(1, Math.ceil(high / width - 1e-9));
  const edges = Array.from({ length: below + above + 1 }, (_, i) => (i - below) * width);
  const counts = edges.slice(1).map(() => 0);
  for (const margin of margins) {
    const bin = Math.floor(margin / width) + below;
    counts[Math.max(0, Math.min(counts.length - 1, bin))]! += 1;
  }
  return { label: 'margin of a bit', unit: 'V', edges, counts, limit: 0 };
}

function sharesOf(
  results: readonly PointResult[],
  side: 'one' | 'zero',
): { readonly shares: readonly VarianceShare[]; readonly rest: number } {
  const keys = [...SHARED.map(([key]) => key), ...Object.values(OWN)];
  const label = (key: string): string =>
    (COLUMNS.find((column) => column.key === key)?.label ?? key).replace(/, .*$/u, '');
  const inputs = Object.fromEntries(
    keys.map((key) => [label(key), results.map((result) => Number(result.values[key]))]),
  );
  return varianceShares(
    inputs,
    results.map((result) => Number(result.values[side])),
  );
}

function leading(side: 'one' | 'zero', shares: readonly VarianceShare[]): string[] {
  const [first, second] = shares;
  if (!first) return [];
  const percent = (share: number): string => `${Math.round(share * 100)} %`;
  return [
    `The ${WORD[side]} margin varies mostly with ${first.name} (${percent(first.share)} of its variance)${second ? `, then ${second.name} (${percent(second.share)})` : ''}.`,
  ];
}

/**
 * The build of a draw as a design file, every core an exception of its own, set up to read the bit that is nearer to
 * failing under the pattern and state that the study reads it with: what the page opens. A file cannot say what one
 * core alone went through, so that a ZERO kept by its own inhibited write is opened as it was before that write.
 */
function drawDesign(plan: StudyPlan, point: Point, tools: StudyTools): Json {
  const { build, address } = drawOf(plan, point, tools);
  const how = howOf(plan);
  const { design, patches } = build;
  const at = { mat: 0, core: address };
  const read = (bit: 0 | 1): number => readMargin(build, how, at, bit, tools);
  const bit = read(1) <= read(0) ? 1 : 0;
  const { pattern, state } = how.reads[bit === 1 ? 'one' : 'zero'];
  const { columns } = design.mat;
  const [row, column] = [Math.floor(address / columns), address % columns];
  const placed: Design = { ...design, selected: { row, column, bit } };
  const { stored } = overridesOf(placed, { bit, pattern, state });
  return applyPatches(plan.design, [
    ...patches,
    { path: '/selected', value: { row, column, bit } },
    ...(how.before === 'cycle'
      ? [{ path: '/programme', value: programmeOf(placed) as unknown as Json }]
      : [{ path: '/programme' }]),
    { path: '/initialState', value: state },
    ...(stored?.rows === undefined
      ? []
      : [{ path: '/stored', value: { kind: 'custom', rows: [...stored.rows] } }]),
    ...(stored?.complement === undefined || stored.rows !== undefined
      ? []
      : [{ path: '/stored/complement', value: stored.complement }]),
    { path: '/exceptions', value: coreExceptions(build) },
  ]);
}

function coreExceptions({ design, cores }: Build): Json {
  const { rows, columns } = design.mat;
  const spread = cores(0);
  const own = new Map(design.exceptions.map((e) => [e.row * columns + e.column, e]));
  return Array.from({ length: rows * columns }, (_, core) => {
    const { missing, reversed, bias, ...factors } = ownCore(design, spread, core, own.get(core));
    return {
      ...factors,
      ...(missing ? { missing } : {}),
      ...(reversed ? { reversed } : {}),
      ...(bias === 0 ? {} : { bias: `${bias} A` }),
    };
  });
}
