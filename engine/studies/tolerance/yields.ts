import { wilsonInterval } from '../../numerics/statistics.ts';
import type { Yield } from '../../strobe/verdict-of-sets.ts';
import type { StackVerdict } from './stack.ts';

/** Share of draws that pass, with its 95 % interval: doubtful ones fail at its low end and pass at its high end. */
export function yieldOf(verdicts: readonly StackVerdict['verdict'][]): Yield {
  const count = (wanted: string): number => verdicts.filter((verdict) => verdict === wanted).length;
  const [draws, passing, doubtful] = [verdicts.length, count('passes'), count('doubtful')];
  return {
    yield: (passing + doubtful / 2) / draws,
    low: wilsonInterval(passing, draws).low,
    high: wilsonInterval(passing + doubtful, draws).high,
  };
}
