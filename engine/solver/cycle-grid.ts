import {
  driveActivity,
  pulseEnds,
  type CycleProgramme,
  type DriveActivity,
  type DrivePulse,
} from '../drive/programme.ts';
import { maxLandings, type LineModel } from './drive-line.ts';
import type { CycleGrid } from './run-cycle.ts';
import type { Problem } from './run-problem.ts';
import { buildGrid, jumpSteps, type Pace, type TimeGrid } from './time-grid.ts';

/**
 * The instants of a cycle up to `end`, s. Behind a voltage a current lives on after the pulse, until the clamp has taken it
 * down: steps stay short for `linger`.
 */
export function cycleGrid(problem: Problem, programme: CycleProgramme, end: number, pace: Pace): CycleGrid {
  const { linger, refine } = problem;
  const over = linger > 0 ? pulseEnds(programme).map((t) => t + linger) : [];
  const rests = over.filter((t) => driveActivity(programme, t, t + 1e-12) === 'calm');
  const opens = [...switchings(problem.lineX, programme.x), ...switchings(problem.lineY, programme.y)];
  const marks = Float64Array.from(new Set([...programme.jumps, ...rests, ...opens]))
    .sort()
    .filter((t, i, all) => i === 0 || t - all[i - 1]! > 1e-13);
  const activity = (from: number, to: number): DriveActivity => {
    const driven = driveActivity(programme, from, to);
    const lives = over.some((t) => from < t - 1e-13 && to > t - linger + 1e-13);
    return driven === 'calm' && lives ? 'hold' : driven;
  };
  const from = (start: number): TimeGrid => buildGrid(start, end, marks, activity, pace, refine);
  return { whole: from(0), from };
}

/** s: when the switch of a voltage source opens, which is a slope jump whatever the edge (predictLine). */
const switchings = ({ sourceResistance }: LineModel, pulses: readonly DrivePulse[]): number[] =>
  sourceResistance === undefined ? [] : pulses.map((p) => p.off + p.trailing.duration);

/** Instants of a cycle at most: those of its grid, and what currents may cost that land between the pulses' slope jumps. */
export function maxInstants(problem: Problem, programme: CycleProgramme, grid: CycleGrid): number {
  const { lineX, lineY, rule, refine } = problem;
  const landings = maxLandings(lineX, programme.x.length) + maxLandings(lineY, programme.y.length);
  return grid.whole.time.length + landings * jumpSteps(rule, refine);
}
