import { formatQuantity } from '../base/format-quantity.ts';
import { applyPatches, type Patch } from '../base/json-patch.ts';
import { cycleEnd } from '../check/rules-drive.ts';
import type { Design } from '../design/design.ts';
import { supplyCurrent } from '../estimates/supply-needs.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { baselineShift } from '../sense-amplifier/periodic-steady-state.ts';
import { steadyCouplings } from '../sense-amplifier/repetition.ts';
import type { Simulation } from '../solver/result.ts';
import { strobeUncertainties } from '../strobe/envelope.ts';
import { windowAt } from '../strobe/window-at.ts';
import { quantityJson } from './shared/inputs.ts';
import { readOptions, refuseOption } from './shared/options.ts';
import { runWork } from './shared/price.ts';
import {
  STUDY_CASES,
  casesOf,
  fixedStrobe,
  historyPatches,
  freeStrobe,
  nominalInForce,
  readEnvelope,
  runCases,
  runsPerReading,
} from './shared/reading.ts';
import type { Column, Point, PointResult, Series, StudyPart, StudyPlan, StudyTools } from './shared/shape.ts';

/**
 * What running faster costs: recovery after inhibit, baseline shift, window and margin, supply current and
 * dissipation against the cycle rate; and the highest rate with what limits it.
 */

export const rate: StudyPart = {
  plan(request, design, tools) {
    const options = readOptions(request);
    const seed = options.seed();
    const { period } = design.cycle;
    const shortest = options.quantity(
      'from',
      Math.max(cycleEnd(design) * (1 + 1e-9), period / 4),
      's',
      20e-9,
      0.1,
    );
    const longest = options.quantity('to', 2 * period, 's', 20e-9, 0.1);
    if (!(shortest < longest))
      refuseOption(
        '/options/to',
        `longer than from, ${formatQuantity(shortest, 's')}`,
        formatQuantity(longest, 's'),
        'choose a longer period',
      );
    const steps = options.count('steps', 9, 2, 101);
    const fraction = options.ratio('fraction', 0.1, 0.001, 1);
    const history = options.count('history', 2, 1, 16);
    const strobe = options.choice('strobe', 'fixed', ['fixed', 'best']);
    const cases = options.choice('cases', 'worst', STUDY_CASES);
    options.finish();
    const { inhibitedShare = null } = design.cycle;
    const coupled = design.amplifier.highPass > 0;
    const points: Point[] = [
      { name: 'highest rate', patches: [], inputs: { period: null } },
      ...Array.from({ length: steps }, (_, i) => {
        const at = i === steps - 1 ? shortest : longest * (shortest / longest) ** (i / (steps - 1));
        return {
          name: `period ${formatQuantity(at, 's')}`,
          patches: periodPatch(at),
          inputs: { period: at },
        };
      }),
    ];
    return {
      kind: 'rate',
      design: request.design,
      options: { from: shortest, to: longest, steps, fraction, history, strobe, cases, inhibitedShare },
      seed,
      points,
      nominal: nominalInForce(design, cases, tools),
      // A coupled amplifier is read after either duty, and two runs of two cycles say what they leave.
      runs:
        (points.length - 1 + MOST_TRIED) *
        ((runsPerReading(cases) + 1) * (coupled ? 2 : 1) + (coupled ? 4 : 0)) *
        (history + 1),
    };
  },

  price(plan, tools) {
    const { to } = plan.options as { to: number };
    const nominal = tools.checkDesign(plan.design);
    const longest = Math.max(to, nominal.cycle.period);
    const before = historyPatches(plan.design, nominal, Number(plan.options.history));
    // The history is in the priced programme already.
    const runs = plan.runs / (Number(plan.options.history) + 1);
    return runs * runWork(plan.design, [...periodPatch(longest), ...before], tools);
  },

  evaluate(plan, point, tools) {
    return point.inputs.period === null
      ? highestRate(plan, tools)
      : { values: onePeriod(plan, Number(point.inputs.period), tools) };
  },

  summarise(plan, results) {
    const sorted = results
      .filter((result) => result.values.highest === undefined)
      .sort((a, b) => Number(a.values.rate) - Number(b.values.rate));
    const line = (key: string, panel: string, yUnit: string, name = panel): Series => ({
      name,
      panel,
      xLabel: 'cycle rate',
      xUnit: 'Hz',
      yLabel: panel,
      yUnit,
      x: sorted.map((result) => Number(result.values.rate)),
      y: sorted.map((result) => (typeof result.values[key] === 'number' ? Number(result.values[key]) : null)),
      point: sorted.map((result) => result.index),
      role: 'data',
    });
    /** Under a nanovolt is rounding, not a result to draw. */
    const felt = (key: string): boolean =>
      sorted.some((result) => Math.abs(Number(result.values[key])) > 1e-9);
    const budget = line('budget', 'supply current', 'A', 'budget');
    const highest = results.find((result) => result.values.highest !== undefined);
    return {
      findings: [
        ...(highest ? [String(highest.values.finding)] : []),
        `Recovered means under ${formatQuantity(Number(plan.options.fraction) * 100, '1')} % of the threshold after the write.`,
        ...(sorted.length > 0 && !felt('tail')
          ? ['Nothing is left of the inhibit at the strobe (under 1 nV).']
          : []),
        ...baselineWords(sorted, plan.options.inhibitedShare as number | null),
      ],
      estimates: [],
      columns: COLUMNS,
      series: [
        line('margin', 'margin', 'V'),
        line('width', 'strobe window', 's'),
        line('fallen', 'ZERO fallen before strobe', 's'),
        line('held', 'ONE held after strobe', 's'),
        ...(felt('tail') ? [line('tail', 'inhibit left at the strobe', 'V')] : []),
        line('recovery', 'recovery after write', 's'),
        ...(plan.options.inhibitedShare === null ? BASELINES : ONE_BASELINE).flatMap(([key, name]) =>
          felt(key) ? [line(key, 'baseline lies lower by', 'V', name)] : [],
        ),
        line('current', 'supply current', 'A', 'drawn'),
        { ...budget, role: 'limit' },
        line('dissipation', 'dissipation', 'W'),
      ],
      map: null,
      histogram: null,
      ranking: [],
    };
  },
};

const COLUMNS: readonly Column[] = [
  { key: 'rate', label: 'cycle rate', unit: 'Hz' },
  { key: 'period', label: 'period', unit: 's' },
  { key: 'margin', label: 'margin', unit: 'V' },
  { key: 'width', label: 'strobe window', unit: 's' },
  { key: 'fallen', label: 'ZERO fallen before strobe', unit: 's' },
  { key: 'held', label: 'ONE held after strobe', unit: 's' },
  { key: 'tail', label: 'inhibit left at the strobe', unit: 'V' },
  { key: 'recovery', label: 'recovery after write', unit: 's' },
  { key: 'baseline', label: 'baseline lies lower by', unit: 'V' },
  { key: 'baselineNone', label: 'with no cycle inhibited', unit: 'V' },
  { key: 'baselineAll', label: 'with every cycle inhibited', unit: 'V' },
  { key: 'current', label: 'supply current', unit: 'A' },
  { key: 'dissipation', label: 'dissipation', unit: 'W' },
  { key: 'pass', label: 'works', unit: 'text' },
  { key: 'limit', label: 'limited by', unit: 'text' },
];

type Values = PointResult['values'];

const BASELINES = [
  ['baselineNone', 'no cycle inhibited'],
  ['baselineAll', 'every cycle inhibited'],
] as const;
const ONE_BASELINE = [['baseline', 'baseline']] as const;

/** @param sorted points by rate, the fastest last */
function baselineWords(sorted: readonly PointResult[], share: number | null): string[] {
  const fastest = sorted.at(-1)?.values;
  if (!fastest) return [];
  if (sorted.every(({ values }) => values.baseline === 0))
    return ['The baseline does not shift: the amplifier is DC coupled.'];
  const volts = (key: string): string => formatQuantity(Number(fastest[key]), 'V');
  const at = `At ${formatQuantity(Number(fastest.rate), 'Hz')}, after endless cycles, the baseline lies lower by`;
  return share === null
    ? [
        `${at} ${volts('baselineNone')} with no cycle inhibited and by ${volts('baselineAll')} with every one; margins are the least of both.`,
      ]
    : [`${at} ${volts('baseline')} with ${formatQuantity(share * 100, '1')} % of the cycles inhibited.`];
}

function onePeriod(plan: StudyPlan, period: number, tools: StudyTools): Values {
  const strobe = plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe;
  const patches = [
    ...periodPatch(period),
    ...historyPatches(plan.design, tools.checkDesign(plan.design), Number(plan.options.history)),
    ...strobe,
  ];
  const design = tools.checkDesign(applyPatches(plan.design, patches));
  const couplings = couplingsOf(design, tools);
  const { envelope, runs } = runCases(design, casesOf(plan), tools, true, couplings);
  const reading = readEnvelope(design, envelope);
  const at = { time: reading.strobe, threshold: reading.threshold };
  const { pulses } = windowAt(envelope, at, strobeUncertainties(design));
  const shifts = couplings.map((coupling) => baselineShift(design.amplifier, coupling));
  const inhibited = tools.simulate(endsInhibited(design), {
    contributions: false,
    estimateError: false,
    balance: false,
    coupling: 0,
  });
  if (inhibited.outcome.kind !== 'done') throw new Error(inhibited.outcome.advice);
  const current = supplyCurrent(design, 1 / period);
  const recovery = recoveryTime(inhibited, Number(plan.options.fraction));
  const limit = !reading.pass
    ? `strobe: ${reading.reason}`
    : recovery === null
      ? 'recovery: the sense wire is not quiet when the next read starts'
      : current > design.supply.budget
        ? 'supply: the current is over the budget'
        : '';
  return {
    rate: 1 / period,
    period,
    margin: reading.margin,
    width: reading.width,
    fallen: pulses?.zeroFallen ?? null,
    held: pulses?.oneHeld?.after ?? null,
    tail: Math.max(...runs.map((run) => inhibitAt(run, reading.strobe - design.detector.delay))),
    recovery,
    baseline: shifts.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)),
    ...(shifts.length === 2 ? { baselineNone: shifts[0]!, baselineAll: shifts[1]! } : {}),
    current,
    budget: design.supply.budget,
    dissipation: current * design.supply.voltage,
    pass: limit === '',
    limit,
  };
}

function answer(period: number | null, limit: string, finding: string): Omit<PointResult, 'index' | 'name'> {
  const highest = period === null ? null : 1 / period;
  return { values: { highest, period, limit, finding, pass: period !== null } };
}

/** Periods that the search for the highest rate tries at most: both ends, and halvings of the longest period to 1 %. */
const MOST_TRIED = 14;

/** Halving in log period between the shortest period that the pulses allow and the nominal one. */
function highestRate(plan: StudyPlan, tools: StudyTools): Omit<PointResult, 'index' | 'name'> {
  const design = tools.checkDesign(plan.design);
  const judge = (period: number): { readonly pass: boolean; readonly limit: string } => {
    try {
      const values = onePeriod(plan, period, tools);
      return { pass: values.pass === true, limit: String(values.limit) };
    } catch (error) {
      return { pass: false, limit: error instanceof Error ? error.message : String(error) };
    }
  };
  let good = Math.max(design.cycle.period, Number(plan.options.from));
  const start = judge(good);
  if (!start.pass)
    return answer(
      null,
      start.limit,
      `At the design's own period of ${formatQuantity(good, 's')} it does not work: ${start.limit}.`,
    );
  let bad = Math.max(cycleEnd(design) * 0.99, 20e-9);
  let last = judge(bad);
  if (last.pass)
    return answer(bad, '', `Works at ${formatQuantity(1 / bad, 'Hz')}, the highest rate that was tried.`);
  while (good / bad > 1.01) {
    const middle = Math.sqrt(good * bad);
    const verdict = judge(middle);
    if (verdict.pass) good = middle;
    else [bad, last] = [middle, verdict];
  }
  return answer(
    good,
    last.limit,
    `Highest rate ${formatQuantity(1 / good, 'Hz')} (period ${formatQuantity(good, 's')}), limited by ${last.limit}.`,
  );
}

const periodPatch = (period: number): Patch[] => [
  { path: '/cycle/period', value: quantityJson(period, 's') },
];

/** The same design, its observed cycle writing a ZERO: the tail after inhibit is then in the record. */
function endsInhibited(design: Design): Design {
  const programme = design.programme.map((cycle, i) =>
    i === design.programme.length - 1 ? { ...cycle, write: 'zero' as const } : cycle,
  );
  return { ...design, programme };
}

/** What inhibit has left on the sense wire at an instant, V, as a size. */
function inhibitAt(run: Simulation, t: number): number {
  return run.contributions ? Math.abs(valueAt(run.time, run.contributions.inhibit, t)) : 0;
}

/** From the end of the write pulse to the last time the amplifier is over a fraction of threshold; null if never under. */
function recoveryTime(run: Simulation, fraction: number): number | null {
  const { cycle, amplifier, detector } = run.design;
  const limit = fraction * detector.threshold * amplifier.divider * amplifier.gain;
  let last = run.time.length - 1;
  while (last >= 0 && Math.abs(run.amplifierOutput[last]!) <= limit) last--;
  if (last === run.time.length - 1) return null;
  return Math.max(0, (run.time[last] ?? 0) - (cycle.readWidth + cycle.gap + cycle.writeWidth));
}

/**
 * V that endless cycles at this period leave on the amplifier's coupling capacitor: at the share of inhibited ones that the design
 * states; else with none and with all of them inhibited, for every other share lies between. DC coupled: nothing.
 */
function couplingsOf(design: Design, tools: StudyTools): readonly number[] {
  if (design.amplifier.highPass === 0) return [0];
  const { one, zero } = steadyCouplings(design, tools.simulate);
  const share = design.cycle.inhibitedShare;
  if (share !== undefined) return [share * zero + (1 - share) * one];
  return [one, zero];
}
