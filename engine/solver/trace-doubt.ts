import type { Recording } from './run-problem.ts';

/** What the time loop has recorded of the sense voltage. */
type SolvedTrace = Pick<Recording, 'time' | 'jumps' | 'endA' | 'endB'>;

/**
 * What samples may miss, V, beyond what a companion run shows, as both miss it alike.
 * @param run instants of the solver, s; 1 where a step begins after a slope jump; V at both ends
 * @param wanted instants of the samples, s; @param lossTime of the wire, s
 */
export function doubtOf(run: SolvedTrace, wanted: Float64Array, lossTime: number): Float64Array {
  const jumps = doubtAfterJumps(run, wanted);
  if (lossTime > 0) return jumps;
  const ringing = doubtOfRinging(run, wanted);
  return jumps.map((doubt, i) => Math.max(doubt, ringing[i]!));
}

/** Steps after a slope jump in which the voltage is looked at for a jump of its own, or a spike. */
const FIRST_STEPS = 4;

/**
 * What samples may miss, V, that fall into the first steps after a slope jump. Through the first of them a straight line leads
 * from the value before to the one at its end; where the voltage itself jumps (a wire without loss, charge through a coupling
 * capacitance) the whole jump comes first, and as much of it is missed as the step has still to go. Where a current dies
 * within a step, a spike follows whose height is that step's. Both are told by how far a value lies from the straight line
 * through the two after it, which on a smooth trace is next to nothing.
 */
function doubtAfterJumps(run: SolvedTrace, wanted: Float64Array): Float64Array {
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

/** V by which the n-th value lies off the straight line through the two after it. */
function offLine({ time, endA, endB }: SolvedTrace, n: number): number {
  if (n + 2 >= time.length) return 0;
  const voltage = (at: number): number => endB[at]! - endA[at]!;
  const slope = (voltage(n + 2) - voltage(n + 1)) / (time[n + 2]! - time[n + 1]!);
  return Math.abs(voltage(n + 1) - slope * (time[n + 1]! - time[n]!) - voltage(n));
}

/** s, half a period at the cut-off of the shortest sections that a wire is cut in (chooseSections): pi/2 of 0.2 ns. */
const HALF_RING = 0.3e-9;

/**
 * What samples may miss, V, of a wire without loss. It rings at its ladder's cut-off for as long as its ends let it, at a
 * phase that no step and no number of sections settles: told is the swing about a straight line within half a period to
 * either side, which on a smooth trace is next to nothing.
 */
function doubtOfRinging({ time, jumps, endA, endB }: SolvedTrace, wanted: Float64Array): Float64Array {
  const voltage = (at: number): number => endB[at]! - endA[at]!;
  let at = 0;
  return wanted.map((t) => {
    while (at + 1 < time.length && time[at + 1]! <= t) at++;
    let from = at;
    // Neither reaches over a slope jump, at which the value still is the one before.
    while (from > 0 && jumps[from - 1] === 0 && (t - time[from]! < HALF_RING || at - from < 2)) from--;
    let to = at;
    while (to + 1 < time.length && jumps[to] === 0 && (time[to]! - t < HALF_RING || to - at < 2)) to++;
    if (to <= from) return 0;
    const slope = (voltage(to) - voltage(from)) / (time[to]! - time[from]!);
    let least = 0;
    let most = 0;
    for (let n = from; n <= to; n++) {
      const off = voltage(n) - voltage(from) - slope * (time[n]! - time[from]!);
      least = Math.min(least, off);
      most = Math.max(most, off);
    }
    return most - least;
  });
}
