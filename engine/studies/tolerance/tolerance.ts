import { valueAt } from '../../sense-amplifier/detector.ts';
import type { CaseSpec } from '../../strobe/case-overrides.ts';
import { mustBe, readOptions, refuseOption } from '../shared/options.ts';
import { referred, runCases, strobeInForce, type StudyRuns } from '../shared/reading.ts';
import type { Point, StudyPart } from '../shared/shape.ts';
import { COLUMNS, OWN, SHARED } from './draw-columns.ts';
import { drawOf, howOf, drawDesign } from './drawn-build.ts';
import { defaultBefore, drivenByVoltage, readMargin, type Before, type Reads } from './read.ts';
import { MOST_READS, RULE_RUNS, fitStackRules, judgeStack } from './stack.ts';
import { SIDES, bitYield, histogramOf, meanOf, sharesOf, stackYield } from './summary.ts';
import { toleranceOptions, type ToleranceOptions } from './tolerance-options.ts';
import { marginText, shareRows, toleranceFindings } from './tolerance-words.ts';

/**
 * Parts as they come: each draw is one build with its own drives, edges, terminations, threshold, strobe,
 * temperature and cores. One bit of it, chosen at random, is read as ONE and as ZERO under the winding's worst
 * patterns (yield per bit); and, when asked, all bits of the stack are judged, the weakest of them by full reads
 * (yield per stack, studies/tolerance/stack.ts). A draw depends on (design, seed, draw) alone.
 */

export const tolerance: StudyPart<ToleranceOptions> = {
  options: toleranceOptions,

  open: drawDesign,

  plan(request, design, tools) {
    const given = readOptions(request, toleranceOptions);
    const { seed, draws, stack, worst, cases, before = defaultBefore(design) } = given;
    if (before === 'core' && drivenByVoltage(design))
      refuseOption(
        ['before'],
        mustBe(
          'cycle or nothing where a line is driven by a voltage',
          before,
          'choose one of these, for its current is known from the whole cycle alone',
        ),
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
        reads,
        rules,
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
    const { rules } = plan.options;
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
      .slice(0, plan.options.worst);
    const shares = SIDES.map((side) => ({ side, ...sharesOf(results, side) }));
    const estimates = [
      bitYield(results, plan),
      ...(stacks.length > 0 ? [stackYield(stacks, plan)] : []),
      ...(margins.length > 1 ? [meanOf(margins, plan)] : []),
    ];
    return {
      findings: toleranceFindings(plan, { estimates, margins, worst: worst[0], shares, stacks }),
      estimates,
      columns: COLUMNS,
      series: [],
      map: null,
      histogram: margins.length > 1 ? histogramOf(margins) : null,
      ranking: shares.flatMap(shareRows),
      open: worst.map((result) => ({
        point: result.index,
        why: marginText(result),
      })),
    };
  },
};

const PARTS = ['threshold', 'flux', 'elastic'] as const;

/** Runs that a read costs with what goes before it, from above. */
const COST_OF: Readonly<Record<Before, number>> = { core: 1, cycle: 2, nothing: 1 };

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
