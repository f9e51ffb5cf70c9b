import type { DriveLine } from './drive-line.ts';
import { tryCores, type StepTrial } from './steep-cores.ts';
import type { StepContext } from './step-context.ts';
import { moveCores, setMiddle, solveLines, solveWireAtGuess } from './take-step.ts';

/** A: a guess that the solution moves by less is the solution. */
const SETTLED = 1e-7;

/** Tries at most; what is not settled then shows in the run's energy. */
const MAX_TRIALS = 24;

/** Least share of a change that is taken. */
const MIN_SHARE = 1 / 16;

/** Acts 2 to 4. */
export function solveStep(step: StepContext): void {
  if (step.problem.tight && step.trial) return settleGuess(step, step.trial);
  moveCores(step);
  solveWireAtGuess(step);
  solveLines(step);
}

/**
 * Acts 2 to 4 where a loop resists little (tight-loop.ts): its current moves cores, and they induce a voltage in it. A
 * current that was only extrapolated would drive itself without bound there, the more the shorter the step. So the guess is
 * settled by Newton's method: cores are moved with their steepness, wire and lines are solved with it, and the step is taken
 * anew at what comes out. The last time it is taken as every other step is, without the steepness, so that contributions and
 * energy are those of the scheme; that moves the guess no more.
 */
function settleGuess(step: StepContext, trial: StepTrial): void {
  let share = 1;
  let last = Infinity;
  for (let n = 0; n < MAX_TRIALS; n++) {
    tryStep(step, trial, true);
    const change = guessChange(step);
    // Newton may swing about a knee, where a core starts to move: then it goes half way.
    if (change > last) share = Math.max(share / 2, MIN_SHARE);
    last = change;
    moveGuess(step, share);
    if (change < SETTLED) break;
  }
  tryStep(step, trial, false);
}

function tryStep(step: StepContext, trial: StepTrial, steep: boolean): void {
  const { problem, state, cycle, difference: d, cores, sums } = step;
  cores.h = d.h;
  cores.gain = d.gain;
  tryCores(trial, problem.classes, state, cycle.factors, cores, sums, steep);
  solveWireAtGuess(step);
  solveLines(step);
}

/** A: greatest difference between the guess and what came out, of the lines and of the wire. */
function guessChange({ wire, lineX, lineY, guess }: StepContext): number {
  let most = Math.max(changeOf(lineX, guess.x), changeOf(lineY, guess.y));
  for (let k = 0; k < wire.sections.count; k++)
    most = Math.max(most, Math.abs(wire.jNext[k]! - wire.jGuess[k]!));
  return most;
}

const changeOf = (line: DriveLine, guess: number): number => (line.solved ? Math.abs(line.next - guess) : 0);

/** Makes what came out the guess, or goes a share of the way there; a current that has landed goes all of it. */
function moveGuess(step: StepContext, share: number): void {
  const { wire, difference: d, lineX, lineY, now, next, guess, lag, cores } = step;
  const moved = (line: DriveLine, from: number): number =>
    line.solved ? (line.landed ? 1 : share) * (line.next - from) : 0;
  const dx = moved(lineX, guess.x);
  const dy = moved(lineY, guess.y);
  lineX.next = next.x = guess.x += dx;
  lineY.next = next.y = guess.y += dy;
  lag.x += d.gain * dx;
  lag.y += d.gain * dy;
  setMiddle(cores.mid, now, next);
  for (let k = 0; k < wire.sections.count; k++) {
    const change = share * (wire.jNext[k]! - wire.jGuess[k]!);
    wire.jGuess[k]! += change;
    wire.jMid[k] = (wire.j[k]! + wire.jGuess[k]!) / 2;
    wire.lagGuess[k]! += d.gain * change;
  }
}
