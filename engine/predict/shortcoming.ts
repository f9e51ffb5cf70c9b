import { Matrix } from 'ml-matrix';
import type { Comparison } from '../fitting/comparison.ts';

/**
 * What the model is not expected to give of a voltage, over its greatest nearby: of one core of many drives (the figure by
 * which captures of one core are weighed, fitting/jig/fit-several.ts). A design that misses its captures by more is taken at
 * that instead.
 */
const LEAST = 0.03;
/** What a run itself is good to, over the peak of a ONE: what counts where no voltage is near. */
const RUN = 0.001;
/** s within which differences of model and core are alike, and within which the greatest voltage is looked for. */
const ALIKE = 30e-9;

/** How far the model itself may be off: as a share of the voltage nearby, and in time. */
export interface Shortcoming {
  /** Standard deviation over the voltage nearby. */
  readonly share: number;
  /** s, standard deviation of when anything happens. */
  readonly late: number;
  /** V, standard deviation where nothing is near: no run is better. */
  readonly run: number;
}

/** @param missed shares of the voltage nearby that the captures are missed by (`missedShare`); `peak` V and `peakTime` s of a ONE */
export function shortcomingOf(
  missed: readonly number[],
  { peak, peakTime }: { readonly peak: number; readonly peakTime: number },
): Shortcoming {
  const share = Math.max(LEAST, ...missed);
  return { share, late: share * peakTime, run: RUN * Math.abs(peak) };
}

/** Part of the greatest voltage below which none is looked at: what is missed of nearly nothing is no share. */
const SEEN = 0.1;

/**
 * What a design misses of a capture beyond its noise, as a share of the voltage nearby, rms: a bell after a spike is judged by
 * the bell. Arrays are over the capture's samples, in V and s.
 */
export function missedShare({
  time,
  predicted,
  difference,
  noise,
}: Pick<Comparison, 'time' | 'predicted' | 'difference' | 'noise'>): number {
  if (predicted.length < 2) return 0;
  const step = (time[time.length - 1]! - time[0]!) / (time.length - 1);
  const greatest = movingGreatest(predicted, Math.max(1, Math.round(ALIKE / step)));
  const least = SEEN * greatest.reduce((most, v) => Math.max(most, v), 0);
  let [sum, count] = [0, 0];
  for (const [i, near] of greatest.entries()) {
    if (near <= least) continue;
    sum += (difference[i]! ** 2 - noise ** 2) / near ** 2;
    count++;
  }
  return count === 0 ? 0 : Math.sqrt(Math.max(0, sum) / count);
}

/** Standard deviation at each sample of a uniform trace, V: of its height and of its place together. */
export function shortAt(trace: Float64Array, step: number, { share, late, run }: Shortcoming): Float64Array {
  const near = Math.max(1, Math.round(ALIKE / step));
  const greatest = movingGreatest(trace, near);
  return greatest.map((a, i) => {
    const slope = (trace[Math.min(i + 1, trace.length - 1)]! - trace[Math.max(0, i - 1)]!) / (2 * step);
    return Math.hypot(share * a, late * slope, run);
  });
}

function movingGreatest(trace: Float64Array, near: number): Float64Array {
  return trace.map((_, i) => {
    let most = 0;
    for (let k = Math.max(0, i - near); k <= Math.min(trace.length - 1, i + near); k++)
      most = Math.max(most, Math.abs(trace[k]!));
    return most;
  });
}

/** Covariance of the model's error at chosen samples, V²: neighbours are off alike. */
export function shortTogether(
  trace: Float64Array,
  step: number,
  at: readonly number[],
  short: Shortcoming,
): Matrix {
  const each = shortAt(trace, step, short);
  const covariance = Matrix.zeros(at.length, at.length);
  at.forEach((i, row) =>
    at.forEach((k, column) => {
      const apart = ((i - k) * step) / ALIKE;
      covariance.set(row, column, each[i]! * each[k]! * Math.exp(-(apart ** 2) / 2));
    }),
  );
  return covariance;
}
