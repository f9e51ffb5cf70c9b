import { cutEndVoltages, makeEndVoltages, type EndVoltages } from './end-voltages.ts';
import { cycleGrid, maxInstants } from './cycle-grid.ts';
import { beginSplit, splitCycles, type Split } from './split-state.ts';
import { makeCycleRecorder } from './recorder.ts';
import { runCycle, type CycleEnd } from './run-cycle.ts';
import { coreGrid } from './long-wire/core-grid.ts';
import { runLongCycle } from './long-wire/run-long-cycle.ts';
import type { Problem, Recording } from './run-problem.ts';
import { makeRun, makeStep } from './step-context.ts';
import { historyRule, type Pace } from './time-grid.ts';

/**
 * Runs every cycle and records the last. The scheme of a step is told in difference.ts, its acts stand in take-step.ts,
 * the choice of its length in time-grid.ts.
 */
export function integrate(problem: Problem): Recording {
  const { cycles, period, byCores } = problem;
  const run = makeRun(problem);
  const splitFrom = cycles.length - 1 - splitCycles(problem);
  let split: Split | undefined;
  let steps = 0;
  let before: EndVoltages | undefined;
  for (let n = 0; n < cycles.length; n++) {
    const cycle = cycles[n]!;
    const observed = n === cycles.length - 1;
    const end = observed ? Math.min(period, problem.until) : period;
    const pace = paceOf(problem, n);
    const grid = byCores
      ? coreGrid(problem, cycle.programme, end, pace)
      : cycleGrid(problem, cycle.programme, end, pace);
    const most = 'whole' in grid ? maxInstants(problem, cycle.programme, grid) : grid.steps + 1;
    if (problem.split && n >= splitFrom) split ??= beginSplit(run.wire);
    const step = makeStep(run, cycle, split);
    const recorder = observed ? makeCycleRecorder(step, most) : undefined;
    const ends = n === cycles.length - 2 ? makeEndVoltages(most) : undefined;
    const ended =
      'whole' in grid ? runCycle(step, grid, recorder, ends) : runLongCycle(step, grid, recorder, ends);
    steps += ended.steps;
    if (ends) before = cutEndVoltages(ends, ended.steps + 1);
    if (ended.kind === 'done' && !observed) continue;
    const recorded = (recorder ?? makeCycleRecorder(step, 1)).finish();
    const early = (kind: CycleEnd['kind']): number | undefined =>
      ended.kind === kind && ended.kind !== 'done'
        ? ended.time + (n + 1 - cycles.length) * period
        : undefined;
    return {
      ...recorded,
      steps,
      before,
      failedAt: early('failed'),
      cancelledAt: early('cancelled'),
    };
  }
  throw new RangeError('A programme needs at least one cycle; received none.');
}

/** Steps of a cycle: those of the design where anything of it may still be heard in the observed one. */
function paceOf({ cycles, period, memory, rule }: Problem, n: number): Pace {
  const history = historyRule(rule);
  if (n === cycles.length - 1) return () => rule;
  return (to) => (n < cycles.length - 2 || to + memory <= period ? history : rule);
}
