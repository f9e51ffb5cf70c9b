import type { Design } from '../../design/design.ts';
import type { WindingKind } from '../../design/mat.ts';
import { mustBe, readOptions, refuseOption } from '../shared/options.ts';
import { runWork } from '../shared/price.ts';
import { casesOf, nominalInForce, runsPerReading } from '../shared/reading.ts';
import type { StudyCases } from '../shared/reading.ts';
import type { Point, StudyPart } from '../shared/shape.ts';
import { LARGEST_READINGS, largestMat } from './largest-mat.ts';
import { matPatches } from './mat-patches.ts';
import { oneMat } from './one-mat.ts';
import { CORNER_RUNS, OTHER_RUNS } from './read-mat.ts';
import { LARGEST, scaleOptions, type ScaleOptions } from './scale-options.ts';
import { answerWords, COLUMNS, heldWords, windingSeries, WORDS } from './scale-words.ts';

/**
 * How a build grows: mat size times winding, half-select noise beside the counting law of half-select-law.ts, and
 * the largest square mat of each winding that still meets the requirement.
 */

export const scale: StudyPart<ScaleOptions> = {
  options: scaleOptions,

  plan(request, design, tools) {
    const given = readOptions(request, scaleOptions);
    const { seed, sizes, windings, strobe, cases, largest } = given;
    const { threshold = strobe === 'best' ? 'best' : 'held' } = given;
    if (strobe === 'fixed' && threshold === 'best')
      refuseOption(
        ['threshold'],
        mustBe('held where the strobe is fixed', threshold, 'let the strobe be found too'),
      );
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
      options: { sizes, windings, strobe, threshold, cases, largest },
      seed,
      points,
      nominal: strobe === 'fixed' ? nominalInForce(design, cases, tools) : null,
      runs: windings.length * (sizes.length + (largest ? LARGEST_READINGS : 0)) * runsPerMat(design, cases),
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
    return runsPerMat(nominal, casesOf(plan)) * readings.reduce((a, b) => a + b, 0);
  },

  evaluate(plan, point, tools) {
    return point.inputs.largest === true ? largestMat(plan, point, tools) : oneMat(plan, point, tools);
  },

  summarise(plan, results) {
    const mats = results.filter((result) => result.values.largest === null);
    const limits = results.filter((result) => result.values.largest !== null);
    return {
      findings: [
        ...answerWords(mats),
        ...limits.map((result) => String(result.values.finding)),
        heldWords(plan.options, mats),
      ],
      estimates: [],
      columns: COLUMNS,
      series: plan.options.windings.flatMap((kind) =>
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

/** Runs of one mat: the cases, others like the worst of them, and those of the corners where they are asked for. */
const runsPerMat = ({ requirement }: Design, cases: StudyCases): number =>
  runsPerReading(cases) + OTHER_RUNS + (requirement.sets.includes('corners') ? CORNER_RUNS : 0);
