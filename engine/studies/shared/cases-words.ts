import { valueAt } from '../../base/json-patch.ts';
import { casesOf } from './reading.ts';
import type { StudyPlan } from './shape.ts';

/**
 * Which set the margins of a study are of, and how much of it was run.
 *
 * @param history inhibited cycles before each read; a design with a programme of its own keeps that
 */
export function casesWords(plan: Pick<StudyPlan, 'design' | 'options'>, history: number): string {
  const tried = casesOf(plan) === 'worst' ? 'the six worst cases by pattern' : 'the patterns of a read';
  const cycles = history === 1 ? 'one inhibited cycle' : `${history} inhibited cycles`;
  const own = valueAt(plan.design, '/programme') !== undefined;
  const after = own ? " after the design's own programme" : history === 0 ? '' : ` after ${cycles}`;
  return `Margins are as designed (set nominal), of ${tried}${after}: not all addresses and histories, and no corners.`;
}
