import type { Trace } from './trace-tools.ts';

/** Places at most that stand for the samples of one mean. */
const MOST_PLACES = 16;

/** s about each instant of a thinned trace: where the samples lie whose mean it is. */
export function averagedOver({ time, block }: Trace & { readonly block: number }): number[] {
  const interval = (time[time.length - 1] - time[0]) / Math.max(1, time.length - 1);
  const count = Math.min(block, MOST_PLACES);
  return Array.from({ length: count }, (_, i) => ((i - (count - 1) / 2) * interval) / count);
}

/**
 * A run's trace as a capture has it whose samples are means over some instants, s about each. It begins a little sooner:
 * where the run begins with a jump, the first mean stands before it.
 */
export function asSampled(trace: Trace, averaged: readonly number[]): Trace {
  if (averaged.length < 2) return trace;
  const step = trace.time[1] - trace.time[0];
  const sooner = Math.ceil(Math.max(...averaged) / step) + 1;
  const time = Float64Array.from(
    { length: trace.time.length + sooner },
    (_, i) => trace.time[0] + (i - sooner) * step,
  );
  const value = time.map(
    (t) => averaged.reduce((sum, shift) => sum + standing(trace, t + shift), 0) / averaged.length,
  );
  return { time, value };
}

/**
 * A run's trace at an instant, by straight lines: its samples are uniform. Before its start and after its end it stands
 * still: what follows belongs to the next cycle.
 */
export function standing({ time, value }: Trace, t: number): number {
  const last = value.length - 1;
  const x = ((t - time[0]) / (time[last] - time[0])) * last;
  if (!(x > 0)) return value[0];
  if (x >= last) return value[last];
  const i = Math.floor(x);
  return value[i] + (x - i) * (value[i + 1] - value[i]);
}
