import type { Split } from './split-state.ts';
import { makeCoreState, type CoreState } from './core-state.ts';
import type { CoreStep } from './core-step.ts';
import { makeDifference, type Difference } from './difference.ts';
import { makeDriveLine, type DriveLine } from './drive-line.ts';
import type { CycleRun, Problem } from './run-problem.ts';
import {
  makeSums,
  noCurrents,
  noLinkages,
  type LineCurrents,
  type LineLinkages,
  type SectionSums,
} from './section-sums.ts';
import { makeStepTrial, type StepTrial } from './steep-cores.ts';
import { makeWireState, type WireState } from './wire-state.ts';

/** What moves while the loop runs through all cycles. */
export interface Run {
  readonly problem: Problem;
  readonly wire: WireState;
  readonly state: CoreState;
  readonly sums: SectionSums;
  readonly lineX: DriveLine;
  readonly lineY: DriveLine;
  /** Linkages of the drive lines with this mat's cores at the end of the step, at the currents solved for. */
  readonly linkages: LineLinkages;
}

export const makeRun = (problem: Problem): Run => ({
  problem,
  wire: makeWireState(problem.sections),
  state: makeCoreState(problem.classes, problem.sections.count),
  sums: makeSums(problem.sections.count),
  lineX: makeDriveLine(problem.lineX),
  lineY: makeDriveLine(problem.lineY),
  linkages: noLinkages(),
});

/** One step of one cycle, as its five acts hand it on (take-step.ts) and as those who look on see it. */
export interface StepContext extends Run {
  readonly cycle: CycleRun;
  /** The wire's voltage by cause; undefined where it is not asked for, or not yet. */
  readonly split: Split | undefined;
  readonly difference: Difference;
  /** s from the start of the cycle. */
  from: number;
  to: number;
  /** Currents of the lines at the start of the step and at its end (predicted, then solved for), A. */
  readonly now: LineCurrents;
  readonly next: LineCurrents;
  /** The predicted ones, at which the cores were summed. */
  readonly guess: LineCurrents;
  /** The same at the end as every inductance sees them, with the ferrite's lag, A; and their rates, A/s. */
  readonly lag: LineCurrents;
  readonly lagRate: LineCurrents;
  /** Lagged inhibit current at the start of the step and its memory; those of X and Y are in their lines. */
  inhibitLag: number;
  inhibitLagPast: number;
  /** V along the drive lines from the near to the far end, at the end of the step. */
  voltageX: number;
  voltageY: number;
  readonly cores: CoreStep;
  /** Cores as they stood before the step, where it may have to be taken anew (settle-guess.ts, settle-landing.ts). */
  readonly trial: StepTrial | undefined;
  /** V s per section: the EMF's integral over the step where the wire took several; undefined where it took this one. */
  areas: Float64Array | undefined;
}

/** A step that goes on from where a run stands; all drive currents at rest. */
export function makeStep(run: Run, cycle: CycleRun, split: Split | undefined): StepContext {
  const { problem, wire, state, sums, lineX, lineY, linkages } = run;
  const lag = noCurrents();
  return {
    problem,
    wire,
    state,
    sums,
    lineX,
    lineY,
    linkages,
    cycle,
    split,
    difference: makeDifference(problem.sections.lossTime),
    from: 0,
    to: 0,
    now: noCurrents(),
    next: noCurrents(),
    guess: noCurrents(),
    lag,
    lagRate: noCurrents(),
    inhibitLag: 0,
    inhibitLagPast: 0,
    voltageX: 0,
    voltageY: 0,
    cores: { h: 0, mid: noCurrents(), midWire: wire.jMid, end: lag, endWire: wire.lagGuess, gain: 1 },
    trial: problem.tight || problem.lands ? makeStepTrial(problem.classes, state) : undefined,
    areas: undefined,
  };
}

/** A step of no length with the cores as they stand at the currents that flow: for the sums alone. */
export const standingStep = (wire: WireState, lag: LineCurrents): CoreStep => ({
  h: 0,
  mid: lag,
  midWire: wire.j,
  end: lag,
  endWire: wire.lag,
  gain: 1,
});
