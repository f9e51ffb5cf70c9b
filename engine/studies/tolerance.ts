import { applyOverrides, overridesOf } from '../case-overrides.ts';
import type { CaseSpec } from '../case-overrides.ts';
import { valueAt } from '../detector.ts';
import type { Design } from '../design.ts';
import { pulseInstants } from '../drive-programme.ts';
import { formatQuantity } from '../format-quantity.ts';
import {
  mean,
  median,
  normalQuantile,
  quantile,
  standardDeviation,
  wilsonInterval,
} from '../numerics/statistics.ts';
import type { CoreSpread, Simulation } from '../result.ts';
import { strobeUncertainties } from '../strobe-envelope.ts';
import { leastOver } from '../strobe-intervals.ts';
import { applyPatches } from './json-patch.ts';
import { formatEstimate } from './format-estimate.ts';
import { readOptions } from './study-options.ts';
import { STUDY_CASES, nominalInForce, referred, runCases, upToWrite } from './study-reading.ts';
import type { StudyCases } from './study-reading.ts';
import type {
  Column,
  Estimate,
  Histogram,
  Json,
  Patch,
  Point,
  PointResult,
  StudyPart,
  StudyPlan,
  StudyTools,
} from './study-shape.ts';
import type { SharedDraw } from './tolerance-draw.ts';
import {
  addressPatches,
  drawCores,
  drawShared,
  leastIndex,
  screenOnes,
  sharedPatches,
} from './tolerance-draw.ts';
import type { VarianceShare } from './variance-shares.ts';
import { varianceShares } from './variance-shares.ts';

/**
 * Parts as they come: each draw is one build with its own drives, edges, terminations, threshold, strobe,
 * temperature and cores. One bit of it, chosen at random, is read as ONE and as ZERO under the winding's worst
 * patterns (yield per bit); and, when asked, the bits that single-core screening calls weakest in the whole stack
 * (yield per stack). A draw depends on (design, seed, draw) alone.
 */

export const tolerance: StudyPart = {
  open: drawDesign,

  plan(request, design, tools) {
    const options = readOptions(request);
    const seed = options.seed();
    const draws = options.count('draws', 1000, 2, 1_000_000);
    const stack = options.flag('stack', true);
    const worst = options.count('worst', 10, 1, 1000);
    const cases = options.choice('cases', 'worst', STUDY_CASES);
    options.finish();
    const nominal = nominalInForce(design, cases, tools);
    const reads = worstReads(design, nominal.time, cases, tools);
    const points: Point[] = Array.from({ length: draws }, (_, draw) => ({
      name: `draw ${draw}`,
      patches: [],
      inputs: { draw },
    }));
    return {
      kind: 'tolerance',
      design: request.design,
      options: { draws, stack, worst, cases, reads: reads as unknown as Json },
      seed,
      points,
      nominal,
      runs: draws * (stack ? 4 : 2),
    };
  },

  evaluate(plan, point, tools) {
    const draw = drawOf(plan, point, tools);
    const at = { core: draw.address, mat: 0 };
    const bit = { one: readOne(draw, plan, tools, at, 1), zero: readOne(draw, plan, tools, at, 0) };
    const own = Object.fromEntries(
      (['threshold', 'flux', 'elastic'] as const).map((part) => [
        OWN[part],
        draw.cores(0)[part][draw.address]!,
      ]),
    );
    const stack = plan.options.stack === true ? readWeakest(draw, plan, tools) : undefined;
    return {
      values: {
        ...Object.fromEntries(SHARED.map(([key]) => [key, draw.shared[key]])),
        ...own,
        row: Math.floor(draw.address / draw.nominal.mat.columns),
        column: draw.address % draw.nominal.mat.columns,
        one: bit.one,
        zero: bit.zero,
        margin: Math.min(bit.one, bit.zero),
        pass: bit.one >= 0 && bit.zero >= 0,
        stackMargin: stack ? Math.min(stack.one, stack.zero, bit.one, bit.zero) : null,
        stackPass: stack ? Math.min(stack.one, stack.zero, bit.one, bit.zero) >= 0 : null,
      },
    };
  },

  summarise(plan, results) {
    const margins = results.map((result) => Number(result.values.margin));
    const stacks = results.filter((result) => typeof result.values.stackPass === 'boolean');
    const worst = [...results]
      .sort((a, b) => Number(a.values.margin) - Number(b.values.margin))
      .slice(0, Number(plan.options.worst));
    const shares = (['one', 'zero'] as const).map((side) => ({ side, ...sharesOf(results, side) }));
    const estimates = [
      yieldOf('yield per bit', results, 'pass', plan),
      ...(stacks.length > 0 ? [yieldOf('yield per stack', stacks, 'stackPass', plan)] : []),
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
        ...(stacks.length > 0
          ? [
              'A stack passes when its random bit and the bits that single-core screening calls weakest pass: an upper bound on the yield.',
            ]
          : []),
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
  { key: 'stackMargin', label: 'margin of the weakest bits', unit: 'V' },
  { key: 'stackPass', label: 'stack passes', unit: 'text' },
];

interface Draw {
  readonly nominal: Design;
  readonly shared: SharedDraw;
  /** Patches of what the build shares. */
  readonly patches: readonly Patch[];
  /** Core of the bit that is read. */
  readonly address: number;
  readonly cores: (mat: number) => CoreSpread;
}

function drawOf(plan: StudyPlan, point: Point, tools: StudyTools): Draw {
  const nominal = tools.checkDesign(plan.design);
  const index = Number(point.inputs.draw);
  const shared = drawShared(nominal, plan.seed, index);
  const known = new Map<number, CoreSpread>();
  return {
    nominal,
    shared,
    patches: sharedPatches(nominal, shared, plan.nominal?.time ?? 0),
    address: Math.floor(shared.address * nominal.mat.rows * nominal.mat.columns),
    cores(mat) {
      const found = known.get(mat) ?? drawCores(nominal, plan.seed, index, mat);
      known.set(mat, found);
      return found;
    },
  };
}

/** How each bit is read in every draw: the pattern and disturb state that are worst in the nominal design. */
interface Reads {
  readonly one: Pick<CaseSpec, 'pattern' | 'state'>;
  readonly zero: Pick<CaseSpec, 'pattern' | 'state'>;
}

function worstReads(design: Design, strobe: number, cases: StudyCases, tools: StudyTools): Reads {
  const { runs, specs } = runCases(design, cases, tools, false);
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

/** Margin of one bit read at one address of one mat, V: negative fails. */
function readOne(
  draw: Draw,
  plan: StudyPlan,
  tools: StudyTools,
  at: { readonly core: number; readonly mat: number },
  bit: 0 | 1,
): number {
  const patches = [...draw.patches, ...addressPatches(draw.nominal, at.core)];
  const checked = tools.checkDesign(applyPatches(plan.design, patches));
  const spec = { bit, ...(plan.options.reads as unknown as Reads)[bit === 1 ? 'one' : 'zero'] };
  const run = tools.simulate(upToWrite(applyOverrides(checked, overridesOf(checked, spec))), {
    spread: draw.cores(at.mat),
    contributions: false,
    estimateError: false,
  });
  if (run.outcome.kind !== 'done') throw new Error(run.outcome.advice);
  return marginOfRun(run, bit);
}

/** Distance from the threshold on the right side over the aperture and its jitter, less half the hysteresis, V. */
function marginOfRun(run: Simulation, bit: 0 | 1): number {
  const { design, time } = run;
  const { guard, delay, slope, hysteresis } = strobeUncertainties(design);
  const centre = (design.strobe.time ?? 0) - delay;
  const sign = bit === 1 ? 1 : -1;
  const least = leastOver(time, referred(run), centre - guard, centre + guard, sign, slope);
  return least - sign * design.detector.threshold - hysteresis / 2;
}

/** The bits of the whole stack that look weakest: the ONE with the least EMF alone, the ZERO on the softest lines. */
function readWeakest(
  draw: Draw,
  plan: StudyPlan,
  tools: StudyTools,
): { readonly one: number; readonly zero: number } {
  const design = tools.checkDesign(applyPatches(plan.design, draw.patches));
  const { x, y } = pulseInstants(design);
  const since = (design.strobe.time ?? 0) - design.detector.delay - Math.max(x.readOn, y.readOn);
  const { mats, rows, columns } = design.mat;
  let one = { mat: 0, core: 0, value: Infinity };
  let zero = { mat: 0, core: 0, value: Infinity };
  for (let mat = 0; mat < mats; mat++) {
    const spread = draw.cores(mat);
    const emf = screenOnes(design, spread, since);
    const softness = lineSums(spread.threshold, rows, columns);
    const weak = leastIndex(emf);
    const soft = leastIndex(softness);
    if (emf[weak]! < one.value) one = { mat, core: weak, value: emf[weak]! };
    if (softness[soft]! < zero.value) zero = { mat, core: soft, value: softness[soft]! };
  }
  return {
    one: readOne(draw, plan, tools, one, 1),
    zero: readOne(draw, plan, tools, zero, 0),
  };
}

/** Sum of the threshold factors along each core's row and column. */
function lineSums(values: Float64Array, rows: number, columns: number): Float64Array {
  const inRow = new Float64Array(rows);
  const inColumn = new Float64Array(columns);
  values.forEach((value, i) => {
    inRow[Math.floor(i / columns)]! += value;
    inColumn[i % columns]! += value;
  });
  return values.map((value, i) => inRow[Math.floor(i / columns)]! + inColumn[i % columns]! - value);
}

function yieldOf(label: string, results: readonly PointResult[], key: string, plan: StudyPlan): Estimate {
  const passing = results.filter((result) => result.values[key] === true).length;
  const { low, high } = wilsonInterval(passing, results.length);
  return {
    label,
    unit: '',
    value: results.length > 0 ? passing / results.length : 0,
    low,
    high,
    interval: '95 % Wilson',
    samples: results.length,
    seed: plan.seed,
  };
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
 * failing under the pattern and state that the study reads it with: what the page opens.
 */
function drawDesign(plan: StudyPlan, point: Point, tools: StudyTools): Json {
  const draw = drawOf(plan, point, tools);
  const at = { core: draw.address, mat: 0 };
  const weaker = readOne(draw, plan, tools, at, 1) <= readOne(draw, plan, tools, at, 0) ? 'one' : 'zero';
  const { pattern, state } = (plan.options.reads as unknown as Reads)[weaker];
  const bit = weaker === 'one' ? 1 : 0;
  const patches = [...draw.patches, ...addressPatches(draw.nominal, draw.address)];
  const checked = tools.checkDesign(applyPatches(plan.design, patches));
  const { stored } = overridesOf(checked, { bit, pattern, state });
  return applyPatches(plan.design, [
    ...patches,
    { path: '/selected/bit', value: bit },
    { path: '/initialState', value: state },
    ...(stored?.rows === undefined
      ? []
      : [{ path: '/stored', value: { kind: 'custom', rows: [...stored.rows] } }]),
    ...(stored?.complement === undefined || stored.rows !== undefined
      ? []
      : [{ path: '/stored/complement', value: stored.complement }]),
    { path: '/exceptions', value: coreExceptions(draw) },
  ]);
}

function coreExceptions({ nominal, cores }: Draw): Json {
  const { columns } = nominal.mat;
  const { threshold, flux, elastic } = cores(0);
  const own = new Map(nominal.exceptions.map((e) => [e.row * columns + e.column, e]));
  return Array.from(threshold, (factor, core) => {
    const e = own.get(core);
    return {
      row: Math.floor(core / columns),
      column: core % columns,
      thresholdFactor: factor * (e?.thresholdFactor ?? 1),
      fluxFactor: flux[core]! * (e?.fluxFactor ?? 1),
      elasticFactor: elastic[core]! * (e?.elasticFactor ?? 1),
      ...(e?.missing ? { missing: true } : {}),
      ...(e?.reversed ? { reversed: true } : {}),
      ...(e && e.bias !== 0 ? { bias: `${e.bias} A` } : {}),
    };
  });
}
