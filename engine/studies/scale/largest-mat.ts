import type { WindingKind } from '../../design/mat.ts';
import { casesOf } from '../shared/reading.ts';
import type { Point, PointResult, StudyPlan, StudyTools } from '../shared/shape.ts';
import { matPatches } from './mat-patches.ts';
import { anewOf, matDesign, reasonOf } from './one-mat.ts';
import { readMat } from './read-mat.ts';
import { LARGEST, type ScaleOptions } from './scale-options.ts';
import { largestWords } from './scale-words.ts';

/** The least mat of the search; the largest is LARGEST. */
const SMALLEST = 4;

/** Mats that the search for the largest reads: both ends, and five halvings of 62 even sizes between them, rounded up. */
export const LARGEST_READINGS = 8;

/** Halving over even sizes from 4 to 128; the margin is taken to fall as the mat grows. */
export function largestMat(
  plan: StudyPlan<ScaleOptions>,
  point: Point,
  tools: StudyTools,
): Omit<PointResult, 'index' | 'name'> {
  const kind = point.inputs.winding as WindingKind;
  const nominal = tools.checkDesign(plan.design);
  const reasons = new Map<number, string>();
  const passes = (n: number): boolean => {
    const patches = matPatches(plan.design, nominal, n, n, kind);
    try {
      const found = readMat(matDesign(plan, patches, tools), casesOf(plan), anewOf(plan), tools);
      reasons.set(n, reasonOf(found));
      return found.pass;
    } catch (error) {
      reasons.set(n, error instanceof Error ? error.message : String(error));
      return false;
    }
  };
  const answer = (largest: number, failed?: number) => {
    const fails = failed === undefined ? undefined : { side: failed, reason: reasons.get(failed) };
    const finding = largestWords(kind, nominal.requirement, largest, fails);
    return { values: { winding: kind, rows: largest || null, columns: largest || null, largest, finding } };
  };
  if (!passes(SMALLEST)) return answer(0, SMALLEST);
  if (passes(LARGEST)) return answer(LARGEST);
  let [good, bad] = [SMALLEST, LARGEST];
  while (bad - good > 2) {
    const middle = 2 * Math.round((good + bad) / 4);
    if (passes(middle)) good = middle;
    else bad = middle;
  }
  return answer(good, bad);
}
