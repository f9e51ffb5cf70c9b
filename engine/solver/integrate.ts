import { makeStepSources } from './contributions.ts';
import { advanceCores, makeCoreState, makeSums, setFactors, type LineCurrents } from './core-stepper.ts';
import { lagged, makeDifference, memory, setDifference } from './difference.ts';
import {
  beginLine,
  landOnKink,
  limitLine,
  lineVoltage,
  makeDriveLine,
  mostLandings,
  predictLine,
  shiftLine,
} from './drive-line.ts';
import {
  driveActivity,
  pulseEnds,
  pulseValue,
  type CycleProgramme,
  type DriveActivity,
} from '../drive/programme.ts';
import { cutEar, listen, makeEar, makeObserver, type Observer } from './recorder.ts';
import type { CycleRun, Ear, Problem, Recording, Run } from './run-problem.ts';
import { buildGrid, historyRule, jumpSteps, type TimeGrid } from './time-grid.ts';
import {
  closeLines,
  lineEmf,
  makeWireState,
  predictWire,
  roleSum,
  setAir,
  settleWire,
  shiftWire,
  solveWire,
} from './wire-state.ts';

/**
 * Runs every cycle and records the last. Linkages and charges are the states, so that flux closure holds in the
 * discrete sense; they are differenced by the two-step backward formula of variable step (second order, stable for
 * stiff networks), one-step after each slope jump. Cores move at the drive of mid-step; their elastic flux is
 * linearised about a predicted current, the remainder enters the next step.
 */
export function integrate(problem: Problem): Recording {
  const { classes, cycles, period } = problem;
  const run: Run = {
    problem,
    wire: makeWireState(problem.sections),
    state: makeCoreState(classes),
    sums: makeSums(problem.sections.count),
    lines: [makeDriveLine(problem.lineX), makeDriveLine(problem.lineY)],
    linkages: new Float64Array(4),
  };
  let steps = 0;
  let before: Ear | undefined;
  for (let n = 0; n < cycles.length; n++) {
    const cycle = cycles[n]!;
    const observed = n === cycles.length - 1;
    const end = observed ? Math.min(period, problem.until) : period;
    // The amplifier hears the cycle before the observed one too: both are run with the design's own steps.
    const pace = n < cycles.length - 2 ? { ...problem, rule: historyRule(problem.rule) } : problem;
    const gridFrom = (start: number): TimeGrid => cycleGrid(pace, cycle.programme, start, end);
    const grid = gridFrom(0);
    const most = grid.time.length + landingSteps(problem, cycle.programme);
    const observer = observed ? makeObserver(run, cycle, most) : undefined;
    const ear = n === cycles.length - 2 ? makeEar(most) : undefined;
    const ended = runCycle(run, cycle, grid, gridFrom, observer, ear);
    steps += ended.steps;
    if (ear) before = cutEar(ear, ended.steps + 1);
    if (ended.kind !== 'done' || observed) {
      const at = ended.kind === 'done' ? undefined : ended.time + (n + 1 - cycles.length) * period;
      return {
        ...(observer ?? makeObserver(run, cycle, 1)).finish(),
        steps,
        finalPhi: run.state.phi,
        before,
        failedAt: ended.kind === 'failed' ? at : undefined,
        cancelledAt: ended.kind === 'cancelled' ? at : undefined,
      };
    }
  }
  throw new RangeError('A programme needs at least one cycle; received none.');
}

/** Steps that currents may cost which land between the slope jumps of the pulses. */
function landingSteps({ lineX, lineY, rule, refine }: Problem, programme: CycleProgramme): number {
  const landings = mostLandings(lineX, programme.x.length) + mostLandings(lineY, programme.y.length);
  return landings * jumpSteps(rule, refine);
}

/**
 * Steps of a cycle from `start` on. Behind a voltage a current lives on after the pulse, until the clamp has taken it down: steps
 * stay short for `linger`.
 */
function cycleGrid(
  { linger, rule, refine }: Problem,
  programme: CycleProgramme,
  start: number,
  end: number,
): TimeGrid {
  const over = linger > 0 ? pulseEnds(programme).map((t) => t + linger) : [];
  const rests = over.filter((t) => driveActivity(programme, t, t + 1e-12) === 'calm');
  const marks = Float64Array.from(new Set([...programme.jumps, ...rests])).sort();
  const activity = (from: number, to: number): DriveActivity => {
    const driven = driveActivity(programme, from, to);
    const lives = over.some((t) => from < t - 1e-13 && to > t - linger + 1e-13);
    return driven === 'calm' && lives ? 'hold' : driven;
  };
  return buildGrid(start, end, marks, activity, rule, refine);
}

type CycleEnd = { steps: number } & ({ kind: 'done' } | { kind: 'failed' | 'cancelled'; time: number });

function runCycle(
  run: Run,
  cycle: CycleRun,
  grid: TimeGrid,
  gridFrom: (start: number) => TimeGrid,
  observer: Observer | undefined,
  ear?: Ear,
): CycleEnd {
  const { problem, wire, state, sums, lines } = run;
  const { classes, clamp } = problem;
  const { programme, factors, coupling } = cycle;
  const [X, Y] = lines;
  const d = makeDifference(problem.sections.lossTime);
  const mid: LineCurrents = { x: 0, y: 0, inhibit: 0 };
  const now: LineCurrents = { x: 0, y: 0, inhibit: 0 };
  const end: LineCurrents = { x: 0, y: 0, inhibit: 0 };
  const lag: LineCurrents = { x: 0, y: 0, inhibit: 0 };
  const sources = makeStepSources();
  let inhibitLag = 0;
  let inhibitLagPast = 0;

  // The lines start from rest; the wire goes on from where the cycle before left it.
  beginLine(X, programme.x);
  beginLine(Y, programme.y);
  setFactors(classes, state, factors);
  advanceCores(classes, state, 0, end, wire.j, lag, wire.lag, 1, sums);
  wire.flux.set(sums.flux);
  setAir(wire.air, coupling, 0, 0, 0);
  wire.push.fill(0);
  X.linkage = sums.line[0]! + dot(coupling.airX, wire.lag);
  Y.linkage = sums.line[1]! + dot(coupling.airY, wire.lag);
  observer?.begin();
  if (ear) listen(ear, 0, 0, wire);

  let hOld = 0;
  let sinceJump = 0;
  let steps = 0;
  let { time, restart } = grid;
  for (let n = 0; n + 1 < time.length; n++) {
    const t0 = time[n]!;
    if (restart[n] === 1) {
      hOld = 0;
      sinceJump = 0;
      observer?.jump(steps);
      if (ear) ear.jumps[steps] = 1;
    }
    const t1 = landOnKink(lines, t0, time[n + 1]!, hOld);
    setDifference(d, t1 - t0, hOld, sinceJump++, restart[n + 1] === 1);

    predictWire(wire, d);
    predictLine(X, t0, t1, d.w);
    predictLine(Y, t0, t1, d.w);
    end.x = X.next;
    end.y = Y.next;
    end.inhibit = pulseValue(programme.inhibit, t1);
    mid.x = (X.current + end.x) / 2;
    mid.y = (Y.current + end.y) / 2;
    mid.inhibit = (now.inhibit + end.inhibit) / 2;
    lag.x = lagged(d, end.x, X.lag, X.lagPast);
    lag.y = lagged(d, end.y, Y.lag, Y.lagPast);
    lag.inhibit = lagged(d, end.inhibit, inhibitLag, inhibitLagPast);
    advanceCores(classes, state, d.h, mid, wire.jMid, lag, wire.lagGuess, d.gain, sums);

    setAir(wire.airNext, coupling, lag.x, lag.y, lag.inhibit);
    const rateX = d.a0 * lag.x + d.a1 * X.lag + d.a2 * X.lagPast;
    const rateY = d.a0 * lag.y + d.a1 * Y.lag + d.a2 * Y.lagPast;
    let vx = lineVoltage(X, rateX, lineEmf(wire, d, X, sums.line[0]!, sums.x, coupling.airX));
    let vy = lineVoltage(Y, rateY, lineEmf(wire, d, Y, sums.line[1]!, sums.y, coupling.airY));
    vx = limitLine(X, vx);
    vy = limitLine(Y, vy);
    solveWire(wire, d, sums, coupling, end.inhibit, vx, vy, clamp);
    const guessX = end.x;
    const guessY = end.y;
    if (X.solved || Y.solved) {
      closeLines(wire, d, sums, coupling, lines, [guessX, guessY], t1);
      if (d.w === 0) {
        // After a kink the guess is coarse, and the charge behind the coupling capacitance takes it at its word.
        if (X.solved) vx = lineVoltage(X, 0, 0);
        if (Y.solved) vy = lineVoltage(Y, 0, 0);
        solveWire(wire, d, sums, coupling, end.inhibit, vx, vy, clamp);
        closeLines(wire, d, sums, coupling, lines, [guessX, guessY], t1);
      }
      end.x = X.next;
      end.y = Y.next;
    }
    X.lagNext = lag.x += d.gain * (end.x - guessX);
    Y.lagNext = lag.y += d.gain * (end.y - guessY);
    if (X.solved || Y.solved) setAir(wire.airNext, coupling, lag.x, lag.y, lag.inhibit);
    settleWire(wire, sums, end.x - guessX, end.y - guessY);
    settleLinkages(run, end.x - guessX, end.y - guessY);

    if (observer) {
      sources.xRate = d.a0 * lag.x + d.a1 * X.lag + d.a2 * X.lagPast;
      sources.yRate = d.a0 * lag.y + d.a1 * Y.lag + d.a2 * Y.lagPast;
      sources.inhibitRate = d.a0 * lag.inhibit + d.a1 * inhibitLag + d.a2 * inhibitLagPast;
      sources.inhibit = end.inhibit;
      sources.vx = vx;
      sources.vy = vy;
      observer.step(d, now, end, lag, sources);
    }
    shiftWire(wire, d, sums, vx, vy);
    const kinkX = shiftLine(X, run.linkages[0]! + dot(coupling.airX, wire.lag), d);
    const kinkY = shiftLine(Y, run.linkages[1]! + dot(coupling.airY, wire.lag), d);
    inhibitLagPast = memory(d, lag.inhibit, inhibitLag, inhibitLagPast);
    inhibitLag = lag.inhibit;
    now.x = end.x;
    now.y = end.y;
    now.inhibit = end.inhibit;
    hOld = d.h;
    steps++;
    observer?.record(steps, t1, now, lag);
    if (ear) listen(ear, steps, t1, wire);

    if (!Number.isFinite(wire.v[0]! + wire.j[0]! + X.current + Y.current))
      return { kind: 'failed', time: t1, steps };
    if ((steps & 255) === 255 && problem.cancelled?.()) return { kind: 'cancelled', time: t1, steps };
    // A current that landed is a slope jump: steps grow anew from there.
    if ((kinkX || kinkY) && n + 2 < time.length) {
      ({ time, restart } = gridFrom(t1));
      n = -1;
    }
  }
  return { kind: 'done', steps };
}

/** Linkages of the lines at the solved currents: the sums were taken at the predicted ones. */
function settleLinkages(run: Run, dx: number, dy: number): void {
  const { wire, sums, linkages } = run;
  let x = sums.line[0]! + sums.lineSlope[0]! * dx + sums.lineSlope[2]! * dy;
  let y = sums.line[1]! + sums.lineSlope[1]! * dy + sums.lineSlope[2]! * dx;
  let inhibit = sums.line[2]! + sums.lineSlope[3]! * dx + sums.lineSlope[4]! * dy;
  for (let k = 0; k < wire.sections.count; k++) {
    const change = wire.jNext[k]! - wire.jGuess[k]!;
    x += roleSum(sums.x, wire.stride, k) * change;
    y += roleSum(sums.y, wire.stride, k) * change;
    inhibit += roleSum(sums.inhibit, wire.stride, k) * change;
  }
  linkages[0] = x;
  linkages[1] = y;
  linkages[2] = inhibit;
  linkages[3] = sums.line[3]!;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
