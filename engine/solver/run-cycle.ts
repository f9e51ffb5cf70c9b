import { advanceSplit } from './contributions.ts';
import { advanceCores } from './core-stepper.ts';
import { beginLine, landOnKink } from './drive-line.ts';
import { recordEnds, type EndVoltages } from './end-voltages.ts';
import type { CycleRecorder } from './recorder.ts';
import { clearSums, dot } from './section-sums.ts';
import { setFactors } from './set-factors.ts';
import { standingStep, type StepContext } from './step-context.ts';
import { settleLanding } from './settle-landing.ts';
import { solveStep } from './settle-guess.ts';
import { keepCores } from './steep-cores.ts';
import { commit, predict, settleEnds } from './take-step.ts';
import type { TimeGrid } from './time-grid.ts';
import { setAir } from './wire-state.ts';

/** How a cycle ended; time in s from its start. */
export type CycleEnd = { readonly steps: number } & (
  { readonly kind: 'done' } | { readonly kind: 'failed' | 'cancelled'; readonly time: number }
);

/** The instants of a cycle, and those from an unforeseen slope jump on. */
export interface CycleGrid {
  readonly whole: TimeGrid;
  readonly from: (start: number) => TimeGrid;
}

/** How many steps apart a run asks whether it has been cancelled; a power of two. */
export const POLL_INTERVAL = 256;

/** Runs one cycle through the instants of its grid. */
export function runCycle(
  step: StepContext,
  grid: CycleGrid,
  recorder: CycleRecorder | undefined,
  ends: EndVoltages | undefined,
): CycleEnd {
  const { problem, wire, lineX, lineY } = step;
  const lines = [lineX, lineY];
  beginCycle(step);
  recorder?.begin();
  if (ends) recordEnds(ends, 0, 0, wire);

  let hOld = 0;
  let sinceJump = 0;
  let steps = 0;
  let { time, restart } = grid.whole;
  for (let n = 0; n + 1 < time.length;) {
    if (restart[n] === 1) {
      hOld = 0;
      sinceJump = 0;
      recorder?.jump(steps);
      if (ends) ends.jumps[steps] = 1;
    }
    step.from = time[n]!;
    step.to = landOnKink(lines, step.from, time[n + 1]!, hOld);

    const jumpNext = restart[n + 1] === 1;
    if (step.trial) keepCores(step.trial, step);
    predict(step, hOld, sinceJump, jumpNext);
    solveStep(step);
    if (step.trial) settleLanding(step, step.trial, time[n + 1]!, { hOld, sinceJump, jumpNext });
    settleEnds(step);
    sinceJump++;
    if (step.split) advanceSplit(step.split, step);
    recorder?.step(step);
    const kink = commit(step);

    hOld = step.difference.h;
    steps++;
    recorder?.record(steps, step);
    if (ends) recordEnds(ends, steps, step.to, wire);
    if (!Number.isFinite(wire.v[0]! + wire.j[0]! + lineX.current + lineY.current))
      return { kind: 'failed', time: step.to, steps };
    if (steps % POLL_INTERVAL === 0 && problem.cancelled?.())
      return { kind: 'cancelled', time: step.to, steps };
    // A current that landed is a slope jump: steps grow anew from there.
    if (kink && step.to < time.at(-1)!) {
      ({ time, restart } = grid.from(step.to));
      n = 0;
    } else n++;
  }
  return { kind: 'done', steps };
}

/** The lines start from rest; the wire goes on from where the cycle before left it. */
export function beginCycle(step: StepContext): void {
  const { problem, wire, state, sums, lineX, lineY, lag } = step;
  const { programme, factors, coupling } = step.cycle;
  beginLine(lineX, programme.x);
  beginLine(lineY, programme.y);
  setFactors(problem.classes, state, factors, sums.stride);
  clearSums(sums);
  advanceCores(problem.classes, state, standingStep(wire, lag), sums);
  wire.flux.set(sums.flux);
  setAir(wire.air, coupling, lag);
  wire.push.x = wire.push.xPast = wire.push.y = wire.push.yPast = 0;
  lineX.linkage = sums.linkages.x + dot(coupling.airX, wire.lag);
  lineY.linkage = sums.linkages.y + dot(coupling.airY, wire.lag);
}
