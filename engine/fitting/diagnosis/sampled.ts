import type { Trace } from '../align/trace-tools.ts';

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
