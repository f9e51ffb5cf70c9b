import type { Json } from '../../base/json-patch.ts';
import type { Design, WindingKind } from '../../design/design.ts';
import { readOptions, refuseOption } from '../shared/options.ts';
import { runWork } from '../shared/price.ts';
import { STUDY_CASES, casesOf, nominalInForce, runsPerReading } from '../shared/reading.ts';
import type { StudyCases } from '../shared/reading.ts';
import type { Point, StudyPart } from '../shared/shape.ts';
import { LARGEST, LARGEST_READINGS, largestMat } from './largest-mat.ts';
import { matPatches } from './mat-patches.ts';
import { oneMat } from './one-mat.ts';
import { CORNER_RUNS, OTHER_RUNS } from './read-mat.ts';
import { answerWords, COLUMNS, heldWords, windingSeries, WORDS } from './scale-words.ts';

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
    const threshold = options.choice('threshold', strobe === 'best' ? 'best' : 'held', ['best', 'held']);
    const cases = options.choice('cases', 'worst', STUDY_CASES);
    const largest = options.flag('largest', true);
    options.finish();
    if (strobe === 'fixed' && threshold === 'best')
      refuseOption(
        '/options/threshold',
        'held where the strobe is fixed',
        threshold,
        'let the strobe be found too',
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
        heldWords(plan.options as Readonly<Record<string, unknown>>, mats),
      ],
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

/** Runs of one mat: the cases, others like the worst of them, and those of the corners where they are asked for. */
const runsPerMat = ({ requirement }: Design, cases: StudyCases): number =>
  runsPerReading(cases) + OTHER_RUNS + (requirement.sets.includes('corners') ? CORNER_RUNS : 0);

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
