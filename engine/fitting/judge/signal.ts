import { formatQuantity } from '../../base/format-quantity.ts';
import { median } from '../../numerics/statistics.ts';
import { traceNoise, type Trace } from '../align/trace-tools.ts';

/** What is read off a trace once, for all questions about it. */
export interface Signal {
  readonly trace: Trace;
  /** V: standard deviation of one sample, and the smallest step between values. */
  readonly sigma: number;
  readonly step: number;
  readonly least: number;
  readonly greatest: number;
  /** V where it rests before anything happens, and the standard deviation of that. */
  readonly rest: number;
  readonly restError: number;
}

/** Share of a trace, at its beginning, over which it is taken to rest. */
const HEAD = 0.03;

export function readSignal(trace: Trace): Signal {
  const { sigma, step } = traceNoise(trace.value);
  let [least, greatest] = [Infinity, -Infinity];
  for (const v of trace.value) {
    least = Math.min(least, v);
    greatest = Math.max(greatest, v);
  }
  const head = trace.value.subarray(0, Math.max(2, Math.floor(trace.value.length * HEAD)));
  const restError = (1.25 * sigma) / Math.sqrt(head.length);
  return { trace, sigma, step, least, greatest, rest: median(head), restError };
}

export const volts = (v: number): string => formatQuantity(v, 'V', 2);
export const percent = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;
