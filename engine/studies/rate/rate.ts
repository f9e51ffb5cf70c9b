import { formatQuantity } from '../../base/format-quantity.ts';
import { cycleEnd } from '../../check/rules-drive.ts';
import { readOptions, refuseOption } from '../shared/options.ts';
import { runWork } from '../shared/price.ts';
import { historyPatches, nominalInForce, runsPerReading } from '../shared/reading.ts';
import type { Column, Point, PointResult, Series, StudyPart } from '../shared/shape.ts';
import { onePeriod, periodPatch } from './one-period.ts';
import { MOST_TRIED, highestRate } from './highest-rate.ts';
import { RATE_CASES, NOMINAL_RUNS, ofWindow, windowInForce } from './read-period.ts';

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
    const cases = options.choice('cases', 'window', RATE_CASES);
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
      nominal: cases === 'window' ? windowInForce(design, tools) : nominalInForce(design, cases, tools),
      // A coupled amplifier is read after either duty, and two runs of two cycles say what they leave.
      runs:
        (points.length - 1 + MOST_TRIED) *
        (cases === 'window'
          ? (NOMINAL_RUNS + 1) * (coupled ? 2 : 1) + (coupled ? 4 : 0)
          : ((runsPerReading(cases) + 1) * (coupled ? 2 : 1) + (coupled ? 4 : 0)) * (history + 1)),
    };
  },

  price(plan, tools) {
    const { to } = plan.options as { to: number };
    const nominal = tools.checkDesign(plan.design);
    const longest = Math.max(to, nominal.cycle.period);
    // Cases of a window have their own history; of others it is in the priced programme already.
    const history = plan.options.cases === 'window' ? 0 : Number(plan.options.history);
    const before = historyPatches(plan.design, nominal, history);
    const runs = plan.runs / (history + 1);
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
        ofWindow(plan)
          ? 'Margins are those of the strobe window as designed, at each period: drive, supply and temperature at their ends are not in them.'
          : `Margins are of ${plan.options.cases === 'worst' ? 'the six worst cases by pattern' : 'the patterns of a read'} after ${Number(plan.options.history)} inhibited cycles: not all addresses and histories, and no corners.`,
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
