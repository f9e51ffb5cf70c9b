import {
  mean,
  normalQuantile,
  standardDeviation,
  wilsonInterval,
  leastOf,
} from '../../numerics/statistics.ts';
import type { Estimate, Histogram, PointResult, StudyPlan } from '../shared/shape.ts';
import { COLUMNS, OWN, SHARED } from './draw-columns.ts';
import type { StackVerdict } from './stack.ts';
import { varianceShares, type VarianceShare } from './variance-shares.ts';
import { yieldOf } from './yields.ts';

export function bitYield(results: readonly PointResult[], { seed }: StudyPlan): Estimate {
  const samples = results.length;
  const passing = results.filter((result) => result.values.pass === true).length;
  const value = samples > 0 ? passing / samples : 0;
  const { low, high } = wilsonInterval(passing, samples);
  return { label: 'yield per bit', unit: '', value, low, high, interval: '95 % Wilson', samples, seed };
}

/** Doubtful draws fail at the low end of the interval and pass at its high end. */
export function stackYield(stacks: readonly PointResult[], { seed }: StudyPlan): Estimate {
  const verdicts = stacks.map(({ values }) => values.stack as StackVerdict['verdict']);
  const doubtful = verdicts.filter((verdict) => verdict === 'doubtful').length;
  const { yield: value, low, high } = yieldOf(verdicts);
  return {
    label: 'yield per stack',
    unit: '',
    value,
    low,
    high,
    interval: doubtful > 0 ? '95 % Wilson, doubtful draws either way' : '95 % Wilson',
    samples: stacks.length,
    seed,
  };
}

export function meanOf(margins: readonly number[], plan: StudyPlan): Estimate {
  const value = mean(margins);
  const half = (normalQuantile(0.975) * standardDeviation(margins)) / Math.sqrt(margins.length);
  return {
    label: 'mean margin of a bit',
    unit: 'V',
    value,
    low: value - half,
    high: value + half,
    interval: '95 % normal',
    samples: margins.length,
    seed: plan.seed,
  };
}

/** Even bins, as many as the square root of the count says, with an edge where pass begins. */
export function histogramOf(margins: readonly number[]): Histogram {
  const low = Math.min(leastOf(margins), 0);
  const high = Math.max(-leastOf(margins.map((m) => -m)), 0);
  const wanted = Math.max(5, Math.min(60, Math.ceil(Math.sqrt(margins.length))));
  const width = (high - low) / wanted || 1e-3;
  const below = Math.ceil(-low / width - 1e-9);
  const above = Math.max(1, Math.ceil(high / width - 1e-9));
  const edges = Array.from({ length: below + above + 1 }, (_, i) => (i - below) * width);
  const counts = edges.slice(1).map(() => 0);
  for (const margin of margins) {
    const bin = Math.floor(margin / width) + below;
    counts[Math.max(0, Math.min(counts.length - 1, bin))]! += 1;
  }
  return { label: 'margin of a bit', unit: 'V', edges, counts, limit: 0 };
}

export const SIDES = ['one', 'zero'] as const;

/** Shares of the variance of the margin of a ONE or a ZERO, the largest first, and what none of them makes. */
export interface SideShares {
  readonly side: (typeof SIDES)[number];
  readonly shares: readonly VarianceShare[];
  readonly rest: number;
}

export function sharesOf(
  results: readonly PointResult[],
  side: SideShares['side'],
): Omit<SideShares, 'side'> {
  const keys = [...SHARED.map(([key]) => key), ...Object.values(OWN)];
  const label = (key: string): string =>
    (COLUMNS.find((column) => column.key === key)?.label ?? key).replace(/, .*$/u, '');
  const inputs = Object.fromEntries(
    keys.map((key) => [label(key), results.map((result) => Number(result.values[key]))]),
  );
  return varianceShares(
    inputs,
    results.map((result) => Number(result.values[side])),
  );
}
