import type { Simulation } from '../../engine/solver/result.ts';

/** Value with the greatest magnitude (sign kept) and its time, s, within [from, to]; the whole trace if left out. */
export function peakOf(
  time: Float64Array,
  values: Float64Array,
  from = -Infinity,
  to = Infinity,
): { readonly value: number; readonly time: number } {
  let value = 0;
  let at = Number.NaN;
  for (let i = 0; i < time.length; i++) {
    if (time[i]! < from || time[i]! > to || Math.abs(values[i]!) < Math.abs(value)) continue;
    value = values[i]!;
    at = time[i]!;
  }
  return { value, time: at };
}

export const greatest = (values: Float64Array): number => peakOf(values, values).value;

/** Straight between the samples of a uniform trace. */
export function valueAt(time: Float64Array, values: Float64Array, t: number): number {
  const x = (t - time[0]!) / (time[1]! - time[0]!);
  const i = Math.min(time.length - 2, Math.max(0, Math.floor(x)));
  return values[i]! + (values[i + 1]! - values[i]!) * (x - i);
}

/** Greatest difference of two traces of one length, within the samples that `keep` allows. */
export function difference(
  a: Float64Array,
  b: Float64Array,
  keep: (i: number) => boolean = () => true,
): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) if (keep(i)) most = Math.max(most, Math.abs(a[i]! - b[i]!));
  return most;
}

/** Trapezoidal integral over [from, to], V s. */
export function area(time: Float64Array, values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = 0; i + 1 < time.length; i++)
    if (time[i]! >= from && time[i + 1]! <= to)
      sum += ((values[i]! + values[i + 1]!) / 2) * (time[i + 1]! - time[i]!);
  return sum;
}

/** Greatest departure of the sum of the contributions from the sense voltage, relative to its peak. */
export function splitError(run: Simulation): number {
  const parts = Object.values(run.contributions!);
  const sum = run.senseVoltage.map((_, i) => parts.reduce((all, part) => all + part[i]!, 0));
  const peak = Math.abs(greatest(run.senseVoltage));
  return peak === 0 ? difference(sum, run.senseVoltage) : difference(sum, run.senseVoltage) / peak;
}
