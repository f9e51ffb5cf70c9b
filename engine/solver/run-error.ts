import type { RunError } from './result.ts';

/** s after a slope jump in which the wire's own transients pass. */
const EDGE_SETTLING = 25e-9;

/** s: a difference of two runs passes through zero now and then, their error does not; so far about is looked. */
const NEIGHBOURHOOD = 5e-9;

/**
 * The error of a run from a companion with doubled steps and about half the sections. Both parts of the method are of second
 * order, so the error of the run itself is about a third of the difference. The whole of it is told: errors of step and of
 * sections partly cancel, in either run, and half of it covered only three random designs in four.
 * @param time s, uniform; @param fine,coarse V of both runs; @param jumps s, slope jumps of the drives
 * @param doubt V, of the fine run (trace-doubt.ts)
 */
export function estimateError(
  time: Float64Array,
  fine: Float64Array,
  coarse: Float64Array,
  jumps: Float64Array,
  doubt?: Float64Array,
): RunError {
  const difference = new Float64Array(fine.length);
  for (let i = 0; i < fine.length; i++) difference[i] = Math.abs(fine[i]! - coarse[i]!) + (doubt?.[i] ?? 0);
  let all = 0;
  let between = 0;
  let next = 0;
  for (let i = 0; i < time.length; i++) {
    while (next < jumps.length && jumps[next]! <= time[i]!) next++;
    const d = difference[i]!;
    if (d > all) all = d;
    const quiet = next === 0 || time[i]! - jumps[next - 1]! > EDGE_SETTLING;
    if (quiet && d > between) between = d;
  }
  return { senseVoltage: all, betweenEdges: between, trace: greatestAround(time, difference) };
}

/** The greatest value within NEIGHBOURHOOD of each instant. */
function greatestAround(time: Float64Array, values: Float64Array): Float64Array {
  const reach = time.length < 2 ? 0 : Math.ceil(NEIGHBOURHOOD / (time[1]! - time[0]!));
  // Van Herk's running maximum over windows of 2 reach + 1: block maxima from the left and from the right.
  const n = values.length;
  const size = 2 * reach + 1;
  const left = values.slice();
  const right = values.slice();
  for (let i = 1; i < n; i++) if (i % size !== 0) left[i] = Math.max(left[i]!, left[i - 1]!);
  for (let i = n - 2; i >= 0; i--) if ((i + 1) % size !== 0) right[i] = Math.max(right[i]!, right[i + 1]!);
  const greatest = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    // A window cut short at either end may lie in one block.
    const from = i - reach;
    const to = Math.min(n - 1, i + reach);
    if (from < 0) greatest[i] = left[to]!;
    else if (Math.floor(from / size) === Math.floor(to / size)) greatest[i] = right[from]!;
    else greatest[i] = Math.max(right[from]!, left[to]!);
  }
  return greatest;
}

/** As fine as a run can be asked for: eight times the steps and sections leave a sixty-fourth of the error. */
export const MAX_FINER = 8;

/** Error of a run's sense voltage at an instant, V (RunError.trace); the greatest of all where it was not observed. */
export function errorAt(error: RunError, time: Float64Array, instant: number): number {
  const step = time[1]! - time[0]!;
  return error.trace[Math.round((instant - time[0]!) / step)] ?? error.senseVoltage;
}

/**
 * How much finer a run must be so that its error comes down to what is wanted.
 * @param error V of a run made with `finer`; @param wanted V
 * @returns for SimulateOptions.finer, a power of two, with a quarter to spare; at most MAX_FINER, which may leave more
 *   than is wanted
 */
export function finerFor(error: number, wanted: number, finer = 1): number {
  if (error <= wanted) return finer;
  const factor = Math.sqrt((1.25 * error) / wanted);
  return Math.min(MAX_FINER, finer * 2 ** Math.ceil(Math.log2(factor)));
}
