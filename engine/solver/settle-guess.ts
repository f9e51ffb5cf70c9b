import { setLineVoltages, setMiddle, solveWireAtGuess, tryCores } from './act-at-guess.ts';
import { closeLines } from './close-lines.ts';
import type { DriveLine } from './drive-line.ts';
import { addSteepness } from './steep-cores.ts';
import type { StepContext } from './step-context.ts';

/** A: a guess that the solution moves by less is the solution; and one from which a single step of Newton leads there. */
const SETTLED = 1e-7;
const CLOSE = 1e-4;

/** Steps of Newton at most. */
const MAX_TRIALS = 24;

/** Least share of a change that is taken. */
const MIN_SHARE = 1 / 16;

/** A: a step that has not come nearer than this has failed. */
const LOST = 1e-4;

/**
 * Acts 2 to 4 where a line closes a loop: its current is solved for, moves cores, and they induce a voltage in it. Where
 * little resistance and inductance stand against steep cores the gain of the loop in one step exceeds one, and a current
 * that was only extrapolated would drive itself without bound, the more the shorter the step. So the guess is settled by
 * Newton's method: cores are moved with their steepness, wire and lines are solved with it, and the step is taken anew
 * at what comes out. The last time it is taken as every other step is, without the steepness, so that contributions and
 * energy are those of the scheme; that moves the guess no more.
 * @returns whether the step settled
 */
export function settleGuess(step: StepContext): boolean {
  let share = 1;
  let last = Infinity;
  let change = Infinity;
  for (let n = 0; n < MAX_TRIALS; n++) {
    do {
      takeTrial(step, true);
      change = guessChange(step);
      // Newton may swing about a knee, where a core starts to move: then it goes half way.
      if (change > last) share = Math.max(share / 2, MIN_SHARE);
      last = change;
      moveGuess(step, share);
    } while (change > CLOSE && ++n < MAX_TRIALS);
    takeTrial(step, false);
    change = guessChange(step);
    if (change < SETTLED) break;
  }
  return change < LOST;
}

function takeTrial(step: StepContext, steep: boolean): void {
  tryCores(step, steep);
  setLineVoltages(step);
  if (steep) addSteepness(step);
  solveWireAtGuess(step);
  if (step.lineX.solved || step.lineY.solved) closeLines(step);
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
