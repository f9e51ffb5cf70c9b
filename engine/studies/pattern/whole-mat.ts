import type { Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { MAT_PROGRAMMES, type MatProgramme } from '../../history/mat-programme.ts';
import { testMat, type MatRead } from '../../history/mat-test.ts';
import { strobeUncertainties } from '../../strobe/envelope.ts';
import { finiteOrNull } from '../shared/reading.ts';
import type { Point, PointResult, StudyTools } from '../shared/shape.ts';

/**
 * Programmes over every address of the mat as points of the pattern study: the cores' states go from cycle to cycle
 * (mat-history.ts), and the point says how many reads would be wrong and where.
 */

/** Full runs that one programme may cost: samples of both bits, those near the threshold, and the extremes. */
export const WHOLE_MAT_RUNS = 350;

export const PREFIX = 'whole mat, ';

export const wholeMatPoints = (): Point[] =>
  MAT_PROGRAMMES.map(({ name }) => ({
    name: `${PREFIX}${name}`,
    patches: [],
    inputs: { pattern: `${PREFIX}${name}`, state: 'undisturbed' },
  }));

export const isWholeMat = (pattern: unknown): boolean => String(pattern).startsWith(PREFIX);

const programmeOf = (pattern: unknown): MatProgramme => {
  const found = MAT_PROGRAMMES.find(({ name }) => `${PREFIX}${name}` === pattern);
  if (found === undefined) throw new Error(`There is no programme ${String(pattern)}.`);
  return found;
};

/** Addresses kept with a point, of the wrong reads. */
const MOST_WRONG = 100;

export function evaluateWholeMat(
  design: Design,
  pattern: unknown,
  tools: StudyTools,
): Pick<PointResult, 'values' | 'data'> {
  const { simulate, progress, cancelled } = tools;
  const found = testMat(design, programmeOf(pattern), { simulate, progress, cancelled });
  if (found.outcome === 'cancelled') throw new Error('The programme was cancelled; start it again.');
  const { threshold } = design.detector;
  const { threshold: uncertainty } = strobeUncertainties(design);
  const one = found.leastOne?.value ?? NaN;
  const zero = found.greatestZero?.value ?? NaN;
  return {
    values: {
      pattern: String(pattern),
      state: 'as the programme leaves it',
      one: finiteOrNull(one),
      zero: finiteOrNull(zero),
      marginOne: one - threshold - uncertainty,
      marginZero: threshold - zero - uncertainty,
      halfSelectOne: null,
      halfSelectZero: null,
      count: null,
      reads: found.reads,
      wrong: found.wrong.length,
    },
    data: {
      cycles: found.cycles,
      runs: found.runs,
      guard: finiteOrNull(found.guard),
      unchecked: found.unchecked,
      estimateMiss: found.estimate.miss,
      estimateChecked: found.estimate.checked,
      doubtful: found.doubtful,
      leastOne: found.leastOne ? place(found.leastOne) : null,
      greatestZero: found.greatestZero ? place(found.greatestZero) : null,
      wrong: found.wrong.slice(0, MOST_WRONG).map(place),
    },
  };
}

const place = ({ step, row, column, expects, value, by }: MatRead): Json => ({
  step,
  row,
  column,
  expects,
  value,
  by,
});
