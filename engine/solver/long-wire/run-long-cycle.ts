import { pulseValue } from '../../drive/programme.ts';
import { advanceCores } from '../core-stepper.ts';
import { setDifference } from '../difference.ts';
import { recordEnds, type EndVoltages } from '../end-voltages.ts';
import type { CycleRecorder } from '../recorder.ts';
import { beginCycle, POLL_INTERVAL, type CycleEnd } from '../run-cycle.ts';
import { copyCurrents } from '../section-sums.ts';
import type { StepContext } from '../step-context.ts';
import { setMiddle } from '../take-step.ts';
import { addVoltages, causesAt, stepCauses, sumCauses } from './cause-steps.ts';
import type { CoreGrid } from './core-grid.ts';
import { makeLongWire, type LongWire } from './long-wire.ts';
import { lineVoltageAtEnd, meanSlope, setSlopeWeights } from './means.ts';
import { commitCoreStep, remember, settle } from './settle.ts';
import { setCharge, setEmfs, setShares } from './sources.ts';
import { factorWire, stepWire } from './wire-steps.ts';

/** Runs one cycle by core steps (long-wire.ts); recorder and end voltages see every step of the wire. */
export function runLongCycle(
  step: StepContext,
  { time, restart, parts }: CoreGrid,
  recorder: CycleRecorder | undefined,
  ends: EndVoltages | undefined,
): CycleEnd {
  const { wire, problem } = step;
  beginCycle(step);
  recorder?.begin();
  if (ends) recordEnds(ends, 0, 0, wire);
  const long = makeLongWire(wire, step.sums, step.split);
  const between = (at: number, when: number): void => seeBetween(long, step, at, when, recorder, ends);
  let sinceJump = 0;
  let steps = 0;
  for (let n = 0; n + 1 < time.length; n++) {
    if (restart[n] === 1) {
      long.before = long.beforeThat = sinceJump = 0;
      recorder?.jump(steps);
      if (ends) ends.jumps[steps] = 1;
    }
    step.from = time[n]!;
    step.to = time[n + 1]!;
    const length = step.to - step.from;
    setDifference(step.difference, length, long.before, sinceJump++, restart[n + 1] === 1);
    predict(long, step, length);
    moveCores(step, length);
    moveWire(long, step, length, parts[n]!, steps, between);
    settle(long, step, length / parts[n]!);
    recorder?.step(step);
    remember(long, step, length);
    commitCoreStep(step);
    steps += parts[n]!;
    recorder?.record(steps, step);
    if (ends) recordEnds(ends, steps, step.to, wire);
    if (!Number.isFinite(wire.v[0]! + wire.j[0]!)) return { kind: 'failed', time: step.to, steps };
    if (n % POLL_INTERVAL === 0 && problem.cancelled?.()) return { kind: 'cancelled', time: step.to, steps };
  }
  return { kind: 'done', steps };
}

/** Voltages at an instant, s, within a core step. */
function seeBetween(
  long: LongWire,
  { split, wire }: StepContext,
  at: number,
  time: number,
  recorder: CycleRecorder | undefined,
  ends: EndVoltages | undefined,
): void {
  const last = wire.sections.count;
  const endA = split ? causesAt(split, 0) : long.v[0]!;
  const endB = split ? causesAt(split, last) : long.v[last]!;
  recorder?.between(at, time, endA, endB);
  if (!ends) return;
  ends.time[at] = time;
  ends.endA[at] = endA;
  ends.endB[at] = endB;
}

/** Currents of the lines at the end of the core step, and of the wire as the two core steps before let expect them. */
function predict(long: LongWire, step: StepContext, length: number): void {
  const { wire, cycle, lineX, lineY, now, next, lag, lagRate, to } = step;
  const { lossTime, count } = wire.sections;
  lineX.next = next.x = pulseValue(cycle.programme.x, to);
  lineY.next = next.y = pulseValue(cycle.programme.y, to);
  next.inhibit = pulseValue(cycle.programme.inhibit, to);
  copyCurrents(step.guess, next);
  setMiddle(step.cores.mid, now, next);
  lineX.lagNext = lag.x = lagAtEnd(lineX.lag, now.x, next.x, length, lossTime);
  lineY.lagNext = lag.y = lagAtEnd(lineY.lag, now.y, next.y, length, lossTime);
  lag.inhibit = lagAtEnd(step.inhibitLag, now.inhibit, next.inhibit, length, lossTime);
  lagRate.x = (lag.x - lineX.lag) / length;
  lagRate.y = (lag.y - lineY.lag) / length;
  lagRate.inhibit = (lag.inhibit - step.inhibitLag) / length;
  // Over two core steps: over one, what turns over from step to step would keep itself alive (predictWire).
  const past = long.beforeThat > 0 ? long.lagOlder : long.lagOld;
  const ratio = long.before > 0 ? length / (long.before + long.beforeThat) : 0;
  for (let k = 0; k < count; k++) {
    const start = wire.lag[k]!;
    const change = ratio * (start - past[k]!);
    wire.lagGuess[k] = start + change;
    wire.jMid[k] = start + change * (1 / 2 + lossTime / length);
  }
}

/** Lagged current after `length`, s, of a current that goes straight from one value to the next: exact, A. */
function lagAtEnd(lag: number, from: number, to: number, length: number, lossTime: number): number {
  const behind = ((to - from) / length) * lossTime;
  return to - behind + (lag - from + behind) * Math.exp(-length / lossTime);
}

function moveCores({ problem, state, cores, sums }: StepContext, length: number): void {
  cores.h = length;
  cores.gain = 1;
  advanceCores(problem.classes, state, cores, sums);
}

const weights = { now: 0, past: 0, older: 0 };

/**
 * The wire through the core step in `parts` steps, by cause where that is asked for.
 * @param steps those before; @param between called at the instants within
 */
function moveWire(
  long: LongWire,
  step: StepContext,
  length: number,
  parts: number,
  steps: number,
  between: (at: number, time: number) => void,
): void {
  const { problem, wire, sums, split, cycle, now, next, lag } = step;
  const { sections } = wire;
  const { over } = long;
  over.a0 = 1 / length;
  over.a1 = -1 / length;
  setSlopeWeights(weights, long, length);
  const end = (name: 'x' | 'y', air: Float64Array) => ({
    linkage: sums.linkages[name],
    slopes: sums[name],
    air,
    lag: lag[name],
    length,
  });
  const { airX, airY, inhibited } = cycle.coupling;
  step.voltageX = lineVoltageAtEnd(long.lineX, over, wire, step.lineX, end('x', airX), weights);
  step.voltageY = lineVoltageAtEnd(long.lineY, over, wire, step.lineY, end('y', airY), weights);
  setCharge(long, step, (step.voltageX - wire.push.x) / length, (step.voltageY - wire.push.y) / length);
  meanSlope(long.own);
  setEmfs(long, step, length, weights);
  if (split) {
    meanSlope(long.x);
    meanSlope(long.y);
    meanSlope(long.inhibit);
    setShares(long, step, length, parts > 1 ? weights : undefined);
  }
  const h = length / parts;
  factorWire(long, sections, h);
  long.within.fill(0);
  for (let part = 0; part < parts; part++) {
    const after = (part + 1 / 2) * h;
    const injected = inhibited * (now.inhibit + ((next.inhibit - now.inhibit) * after) / length);
    if (split) stepCauses(long, split, sections, after - length / 2, injected);
    else stepWire(long, sections, after - length / 2, injected);
    if (part + 1 === parts) break;
    between(steps + part + 1, step.from + (part + 1) * h);
    if (problem.balance) addVoltages(long, split);
  }
  if (split) sumCauses(split, long.lag, long.v);
}
