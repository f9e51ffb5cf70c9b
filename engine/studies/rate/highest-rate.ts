import { highestWords } from './rate-words.ts';
import { cycleEnd } from '../../check/rules-drive.ts';
import type { PointResult, StudyPlan, StudyTools } from '../shared/shape.ts';
import { onePeriod } from './one-period.ts';
import type { RateOptions } from './rate-options.ts';
import { ofWindow } from './read-period.ts';

/** @param period s, the shortest that works; null: not even the design's own, `own` */
function answer(period: number | null, own: number, limit: string): Omit<PointResult, 'index' | 'name'> {
  const highest = period === null ? null : 1 / period;
  const finding = highestWords(period, own, limit);
  return { values: { highest, period, limit, finding, pass: period !== null } };
}

/** Periods that the search tries at most, by the quick cases and by all: both ends, and halvings of the longest period to 1 %. */
export const MOST_TRIED = 14;

interface Verdict {
  readonly pass: boolean;
  readonly limit: string;
}

/**
 * Halving in log period between the shortest period that the pulses allow and the nominal one: by the quick cases of a
 * window first, since what fails by them fails by all; then, where all of them find less at what was found, by all.
 */
export function highestRate(
  plan: StudyPlan<RateOptions>,
  tools: StudyTools,
): Omit<PointResult, 'index' | 'name'> {
  const design = tools.checkDesign(plan.design);
  const judge = (period: number, cases: 'quick' | 'nominal'): Verdict => {
    try {
      const values = onePeriod(plan, period, tools, cases);
      return { pass: values.pass === true, limit: String(values.limit) };
    } catch (error) {
      return { pass: false, limit: error instanceof Error ? error.message : String(error) };
    }
  };
  const own = Math.max(design.cycle.period, plan.options.from);
  const start = judge(own, 'nominal');
  if (!start.pass) return answer(null, own, start.limit);
  const shortest = Math.max(cycleEnd(design) * 0.99, 20e-9);
  const quick = ofWindow(plan) ? halve(own, shortest, (period) => judge(period, 'quick')) : undefined;
  const tried = quick?.good ?? shortest;
  const found = halve(own, tried, (period) => judge(period, 'nominal'));
  return answer(found.good, own, (found.refused ?? quick?.refused)?.limit ?? '');
}

/** The shortest period that works, to 1 %, and what refuses the next: `shortest` itself where nothing does. */
function halve(
  longest: number,
  shortest: number,
  judge: (period: number) => Verdict,
): { readonly good: number; readonly refused: Verdict | undefined } {
  let refused = judge(shortest);
  if (refused.pass) return { good: shortest, refused: undefined };
  let [good, bad] = [longest, shortest];
  while (good / bad > 1.01) {
    const middle = Math.sqrt(good * bad);
    const verdict = judge(middle);
    if (verdict.pass) good = middle;
    else [bad, refused] = [middle, verdict];
  }
  return { good, refused };
}
