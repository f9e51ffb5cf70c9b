import { advanceCores } from './core-stepper.ts';
import { rate } from './difference.ts';
import { limitLine, lineVoltage } from './drive-line.ts';
import type { LineCurrents } from './section-sums.ts';
import { solveWire } from './solve-wire.ts';
import { moveCoresOnTrial, takeBack } from './steep-cores.ts';
import type { StepContext } from './step-context.ts';
import { lineEmf, setAir } from './wire-state.ts';

export function setMiddle(mid: LineCurrents, now: LineCurrents, next: LineCurrents): void {
  mid.x = (now.x + next.x) / 2;
  mid.y = (now.y + next.y) / 2;
  mid.inhibit = (now.inhibit + next.inhibit) / 2;
}

/** Act 2: every core at the drive of mid-step, and what all of them link at the predicted end. */
export function moveCores(step: StepContext): void {
  const { problem, state, difference: d, cores, sums } = step;
  cores.h = d.h;
  cores.gain = d.gain;
  advanceCores(problem.classes, state, cores, sums);
}

/** The same on trial (steep-cores.ts), with their steepness if asked for. */
export function tryCores(step: StepContext, steep: boolean): void {
  const { problem, state, difference: d, cores, sums, trial } = step;
  takeBack(trial, state);
  cores.h = d.h;
  cores.gain = d.gain;
  moveCoresOnTrial(problem.classes, state, cores, trial, steep);
  cores.h = 0;
  advanceCores(problem.classes, state, cores, sums);
}

/** Voltages of the lines at the guess: what drives those that are solved for, what the others need. */
export function setLineVoltages(step: StepContext): void {
  const { wire, difference: d, lineX, lineY, sums, lag } = step;
  const { airX, airY } = step.cycle.coupling;
  const rateX = rate(d, lag.x, lineX.lag, lineX.lagPast);
  const rateY = rate(d, lag.y, lineY.lag, lineY.lagPast);
  const vx = lineVoltage(lineX, rateX, lineEmf(wire, d, lineX, sums.linkages.x, sums.x, airX));
  const vy = lineVoltage(lineY, rateY, lineEmf(wire, d, lineY, sums.linkages.y, sums.y, airY));
  step.voltageX = limitLine(lineX, vx);
  step.voltageY = limitLine(lineY, vy);
}

/** Act 3: the wire at the predicted currents of the lines. */
export function solveWireAtGuess(step: StepContext): void {
  setAir(step.wire.airNext, step.cycle.coupling, step.lag);
  solveWire(step);
}
