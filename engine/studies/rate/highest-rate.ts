import { highestWords } from './rate-words.ts';
import { cycleEnd } from '../../check/rules-drive.ts';
import type { PointResult, StudyPlan, StudyTools } from '../shared/shape.ts';
import { onePeriod } from './one-period.ts';

/** @param period s, the shortest that works; null: not even the design's own, `own` */
function answer(period: number | null, own: number, limit: string): Omit<PointResult, 'index' | 'name'> {
  const highest = period === null ? null : 1 / period;
  const finding = highestWords(period, own, limit);
  return { values: { highest, period, limit, finding, pass: period !== null } };
}

/** Periods that the search for the highest rate tries at most: both ends, and halvings of the longest period to 1 %. */
export const MOST_TRIED = 14;

/** Halving in log period between the shortest period that the pulses allow and the nominal one. */
export function highestRate(plan: StudyPlan, tools: StudyTools): Omit<PointResult, 'index' | 'name'> {
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
  if (!start.pass) return answer(null, good, start.limit);
  const own = good;
  let bad = Math.max(cycleEnd(design) * 0.99, 20e-9);
  let last = judge(bad);
  if (last.pass) return answer(bad, own, '');
  while (good / bad > 1.01) {
    const middle = Math.sqrt(good * bad);
    const verdict = judge(middle);
    if (verdict.pass) good = middle;
    else [bad, last] = [middle, verdict];
  }
  return answer(good, own, last.limit);
}
