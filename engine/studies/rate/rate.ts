import { formatPeriod, formatQuantity } from '../../base/format-quantity.ts';
import { cycleEnd } from '../../check/rules-drive.ts';
import { readOptions, refuseOption } from '../shared/options.ts';
import { runWork } from '../shared/price.ts';
import { historyPatches, nominalInForce, runsPerReading } from '../shared/reading.ts';
import type { Point, StudyPart } from '../shared/shape.ts';
import { MOST_TRIED, highestRate } from './highest-rate.ts';
import { onePeriod, periodPatch } from './one-period.ts';
import { rateOptions, type RateOptions } from './rate-options.ts';
import { COLUMNS, rateFindings, rateSeries } from './rate-words.ts';
import { NOMINAL_RUNS, QUICK_RUNS, windowInForce } from './read-period.ts';

/**
 * What running faster costs: recovery after inhibit, baseline shift, window and margin, supply current and
 * dissipation against the cycle rate; and the highest rate with what limits it.
 */

export const rate: StudyPart<RateOptions> = {
  options: rateOptions,

  plan(request, design, tools) {
    const given = readOptions(request, rateOptions);
    const { seed, steps, fraction, history, strobe, cases } = given;
    const { period } = design.cycle;
    const shortest = given.from ?? Math.max(cycleEnd(design) * (1 + 1e-9), period / 4);
    const longest = given.to ?? 2 * period;
    if (!(shortest < longest))
      refuseOption(
        ['to'],
        `must be a period longer than from, ${formatQuantity(shortest, 's')}, but is ${formatQuantity(longest, 's')}; choose a longer period or a lower rate`,
      );
    const { inhibitedShare = null } = design.cycle;
    const coupled = design.amplifier.highPass > 0;
    const points: Point[] = [
      { name: 'highest rate', patches: [], inputs: { period: null } },
      ...Array.from({ length: steps }, (_, i) => {
        const at = i === steps - 1 ? shortest : longest * (shortest / longest) ** (i / (steps - 1));
        return {
          name: `period ${formatPeriod(at)}`,
          patches: periodPatch(at),
          inputs: { period: at },
        };
      }),
    ];
    const atPeriod = (runs: number): number => (runs + 1) * (coupled ? 2 : 1) + (coupled ? 4 : 0);
    return {
      kind: 'rate',
      design: request.design,
      options: { from: shortest, to: longest, steps, fraction, history, strobe, cases, inhibitedShare },
      seed,
      points,
      nominal: cases === 'window' ? windowInForce(design, tools) : nominalInForce(design, cases, tools),
      // A coupled amplifier is read after either duty, and two runs of two cycles say what they leave.
      runs:
        cases === 'window'
          ? (points.length - 1 + MOST_TRIED) * atPeriod(NOMINAL_RUNS) + MOST_TRIED * atPeriod(QUICK_RUNS)
          : (points.length - 1 + MOST_TRIED) * atPeriod(runsPerReading(cases)) * (history + 1),
    };
  },

  price(plan, tools) {
    const { to } = plan.options;
    const nominal = tools.checkDesign(plan.design);
    const longest = Math.max(to, nominal.cycle.period);
    // Cases of a window have their own history; of others it is in the priced programme already.
    const history = plan.options.cases === 'window' ? 0 : plan.options.history;
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
    const highest = results.find((result) => result.values.highest !== undefined);
    return {
      findings: rateFindings(plan, sorted, highest),
      estimates: [],
      columns: COLUMNS,
      series: rateSeries(plan, sorted),
      map: null,
      histogram: null,
      ranking: [],
    };
  },
};
