import { lineUp, type LineUpOptions } from '../align/line-up.ts';
import { straightLine } from '../align/refine-line-up.ts';
import { thinTrace, valueAt, type Trace } from '../align/trace-tools.ts';

/** A capture laid on some trace of a run: measured(t) = gain * model(t - delay) + offset, its gain left open. */
export interface Laid {
  readonly model: Trace;
  readonly delay: number;
  readonly gain: number;
  /** V. */
  readonly offset: number;
  /** Correlation of the two, -1..1. */
  readonly coefficient: number;
  /** V²: mean square of what is left. */
  readonly left: number;
}

/** Most samples that judge how a capture lies. */
const MOST_JUDGED = 1500;

export const thinned = (trace: Trace): Trace & { readonly block: number } => thinTrace(trace, MOST_JUDGED);

/** Where a capture lies, whatever its size or by its size too; undefined where it lies nowhere. */
export function layOn(
  model: Trace,
  capture: Trace,
  options: LineUpOptions,
  size: 'open' | 'as stated' = 'open',
): Laid | undefined {
  try {
    const probeGain = size === 'open' ? 'free' : options.probeGain;
    const { delay } = lineUp(model, capture, { ...options, probeGain });
    const thin = thinned(capture);
    const line = straightLine(model, thin, delay, 1);
    return { model, delay, ...line, left: leftOver(thin, model, delay) };
  } catch {
    return undefined;
  }
}

/** V²: mean square about the best straight line on a model at a delay. */
export function leftOver(trace: Trace, model: Trace, delay: number): number {
  const { gain, offset } = straightLine(model, trace, delay, 1);
  const end = model.time[model.time.length - 1];
  let sum = 0;
  for (let i = 0; i < trace.time.length; i++)
    sum += (gain * valueAt(model, Math.min(end, trace.time[i] - delay)) + offset - trace.value[i]) ** 2;
  return sum / trace.time.length;
}

/** What is predicted at each sample of a capture, in its own volts. */
export function predictedAt({ model, delay, gain, offset }: Laid, { time }: Trace): Float64Array {
  const end = model.time[model.time.length - 1];
  return time.map((t) => gain * valueAt(model, Math.min(end, t - delay)) + offset);
}
