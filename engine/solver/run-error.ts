import type { RunError } from './result.ts';
import type { Recording } from './run-problem.ts';

/** s after a slope jump in which the wire's own transients pass. */
const EDGE_SETTLING = 25e-9;

/** s: a difference of two runs passes through zero now and then, their error does not; so far about is looked. */
const NEIGHBOURHOOD = 5e-9;

/**
 * The error of a run from a companion with doubled steps and about half the sections. Both parts of the method are of second
 * order, so the error of the run itself is about a third of the difference. The whole of it is told: errors of step and of
 * sections partly cancel, in either run, and half of it covered only three random designs in four.
 * @param time s, uniform; @param fine,coarse V of both runs; @param jumps s, slope jumps of the drives
 * @param doubt V, of the fine run (doubtAfterJumps)
 */
export function estimateError(
  time: Float64Array,
  fine: Float64Array,
  coarse: Float64Array,
  jumps: Float64Array,
  doubt?: Float64Array,
): RunError {
  const difference = fine.map((u, i) => Math.abs(u - coarse[i]!) + (doubt?.[i] ?? 0));
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

/** Steps after a slope jump in which the voltage is looked at for a jump of its own, or a spike. */
const FIRST_STEPS = 4;

/**
 * What samples may miss, V, that fall into the first steps after a slope jump. Through the first of them a straight line leads
 * from the value before to the one at its end; where the voltage itself jumps (a wire without loss, charge through a coupling
 * capacitance) the whole jump comes first, and as much of it is missed as the step has still to go. Where a current dies
 * within a step, a spike follows whose height is that step's. Both are told by how far a value lies from the straight line
 * through the two after it, which on a smooth trace is next to nothing.
 * @param run instants of the solver, s; 1 where a step begins after a slope jump; V at both ends
 */
export function doubtAfterJumps(run: SolvedTrace, wanted: Float64Array): Float64Array {
  const { time, jumps } = run;
  const doubt = new Float64Array(wanted.length);
  let jump = -Infinity;
  for (let i = 0, n = -1; i < wanted.length; i++) {
    while (n + 1 < time.length && time[n + 1]! <= wanted[i]!) if (jumps[++n] === 1) jump = n;
    const after = jump + FIRST_STEPS - n;
    if (after <= 0 || n + 1 >= time.length) continue;
    const gone = (wanted[i]! - time[n]!) / (time[n + 1]! - time[n]!);
    // What lies so little behind the instant of a jump lies there but for rounding.
    if (n === jump && gone < 1e-3) continue;
    let most = (n === jump ? 1 - gone : 1) * offLine(run, n);
    for (let k = 1; k < after; k++) most = Math.max(most, offLine(run, n + k));
    doubt[i] = most;
  }
  return doubt;
}

type SolvedTrace = Pick<Recording, 'time' | 'jumps' | 'endA' | 'endB'>;

/** V by which the n-th value lies off the straight line through the two after it. */
function offLine({ time, endA, endB }: SolvedTrace, n: number): number {
  if (n + 2 >= time.length) return 0;
  const voltage = (at: number): number => endB[at]! - endA[at]!;
  const slope = (voltage(n + 2) - voltage(n + 1)) / (time[n + 2]! - time[n + 1]!);
  return Math.abs(voltage(n + 1) - slope * (time[n + 1]! - time[n]!) - voltage(n));
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
  return values.map((_, i) => {
    // A window cut short at either end may lie in one block.
    const [from, to] = [i - reach, Math.min(n - 1, i + reach)];
    if (from < 0) return left[to]!;
    return Math.floor(from / size) === Math.floor(to / size)
      ? right[from]!
      : Math.max(right[from]!, left[to]!);
  });
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
