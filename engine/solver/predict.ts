import { pulseValue } from '../drive/programme.ts';
import { setMiddle } from './act-at-guess.ts';
import { lagged, setDifference } from './difference.ts';
import { predictLine } from './drive-line.ts';
import { copyCurrents } from './section-sums.ts';
import type { StepContext } from './step-context.ts';
import { predictWire } from './wire-state.ts';

/** Act 1: the formula of the step, and the currents at its end as those before let expect them. */
export function predict(step: StepContext): void {
  const { difference: d, wire, lineX, lineY, from, to, now, next, guess, lag } = step;
  setDifference(d, to - from, step.pace);
  predictWire(wire, d);
  predictLine(lineX, from, to, d.w);
  predictLine(lineY, from, to, d.w);
  next.x = lineX.next;
  next.y = lineY.next;
  next.inhibit = pulseValue(step.cycle.programme.inhibit, to);
  copyCurrents(guess, next);
  lag.x = lagged(d, next.x, lineX.lag, lineX.lagPast);
  lag.y = lagged(d, next.y, lineY.lag, lineY.lagPast);
  lag.inhibit = lagged(d, next.inhibit, step.inhibitLag, step.inhibitLagPast);
  setMiddle(step.cores.mid, now, next);
}
