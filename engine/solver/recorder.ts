import { advanceSplit, beginSplit, makeSplit, PARTS } from './contributions.ts';
import { advanceCores } from './core-stepper.ts';
import { makeEnergyMeter } from './energy-balance.ts';
import { makeFluxClosure } from './flux-closure.ts';
import type { EnergyBalance } from './result.ts';
import type { Recording } from './run-problem.ts';
import type { LineCurrents } from './section-sums.ts';
import { makeShareWatch } from './share-watch.ts';
import { standingStep, type StepContext } from './step-context.ts';

/** Watches the observed cycle: traces, contributions, energy, flux closure. */
export interface CycleRecorder {
  begin(): void;
  /** The step that starts at this instant begins after a slope jump. */
  jump(at: number): void;
  /** After a step has been solved, before its end becomes now. */
  step(step: StepContext): void;
  /** After that; `at` counts the instants. */
  record(at: number, step: StepContext): void;
  finish(): Omit<Recording, 'steps' | 'before' | 'failedAt' | 'cancelledAt'>;
}

const NO_BALANCE: EnergyBalance = {
  source: NaN,
  resistive: NaN,
  stored: NaN,
  cores: NaN,
  residual: NaN,
  delivered: NaN,
};

/** @param length instants of the cycle at most */
export function makeCycleRecorder(step: StepContext, length: number): CycleRecorder {
  const { problem, wire, state, sums, cycle } = step;
  const { classes, sections } = problem;
  const n = sections.count;
  const make = (): Float64Array => new Float64Array(length);
  const traces = {
    time: make(),
    endA: make(),
    endB: make(),
    x: make(),
    y: make(),
    inhibit: make(),
    wire: make(),
    selectedFlux: make(),
    selectedState: make(),
    selectedDrive: make(),
  };
  const parts = problem.split ? Array.from({ length: PARTS }, make) : [];
  const jumps = new Uint8Array(length);
  const split = makeSplit(n + 1);
  const meter = problem.balance ? makeEnergyMeter() : undefined;
  const closure = problem.balance ? makeFluxClosure(wire) : undefined;
  const watch =
    problem.sharesAt.length > 0
      ? makeShareWatch({ instants: problem.sharesAt, classes, sections, factors: cycle.factors, state, wire })
      : undefined;
  let filled = 0;

  function record(at: number, { to: time, now, lag }: StepContext): void {
    traces.time[at] = time;
    traces.endA[at] = wire.v[0]!;
    traces.endB[at] = wire.v[n]!;
    for (let p = 0; p < parts.length; p++) parts[p]![at] = split.v[n * PARTS + p]! - split.v[p]!;
    traces.x[at] = now.x;
    traces.y[at] = now.y;
    traces.inhibit[at] = now.inhibit * cycle.coupling.inhibited;
    let sum = 0;
    for (let k = 0; k < n; k++) sum += wire.j[k]!;
    traces.wire[at] = sum / n;
    closure?.see();
    filled = at + 1;
    watch?.see(time, lag);
    recordSelected(at, now, lag);
  }

  function recordSelected(at: number, now: LineCurrents, lag: LineCurrents): void {
    const c = classes.selected;
    if (c < 0) return;
    const drive = (i: LineCurrents, wireCurrent: Float64Array): number =>
      cycle.factors.x[c]! * i.x +
      cycle.factors.y[c]! * i.y +
      cycle.factors.inhibit[c]! * i.inhibit +
      classes.polarity[c]! * wireCurrent[classes.section[c]!]! +
      classes.bias[c]!;
    const F = drive(lag, wire.lag);
    const phi = state.phi[c]!;
    const fe = classes.bend[c]!;
    traces.selectedDrive[at] = drive(now, wire.j);
    traces.selectedState[at] = phi;
    traces.selectedFlux[at] =
      phi + state.psi[c]! + classes.elasticA[c]! * F - classes.elasticB[c]! * phi * (Math.hypot(F, fe) - fe);
  }

  return {
    record,
    jump(at) {
      jumps[at] = 1;
    },
    begin() {
      if (problem.split) beginSplit(split, wire);
      meter?.begin(step);
      closure?.begin();
      record(0, step);
    },
    step(solved) {
      if (problem.split) advanceSplit(split, solved);
      meter?.add(solved);
      closure?.add(solved.difference);
    },
    finish() {
      // What the cores really link at the final currents, not what the last step demanded of them.
      advanceCores(classes, state, standingStep(wire, step.lag), sums);
      wire.flux.set(sums.flux);
      const cut = (a: Float64Array): Float64Array => (filled === a.length ? a : a.slice(0, filled));
      return {
        time: cut(traces.time),
        jumps: jumps.slice(0, filled),
        endA: cut(traces.endA),
        endB: cut(traces.endB),
        parts: parts.map(cut),
        x: cut(traces.x),
        y: cut(traces.y),
        inhibit: cut(traces.inhibit),
        wire: cut(traces.wire),
        selectedFlux: cut(traces.selectedFlux),
        selectedState: cut(traces.selectedState),
        selectedDrive: cut(traces.selectedDrive),
        shares: watch?.result() ?? [],
        energy: meter?.result() ?? NO_BALANCE,
        fluxClosure: closure?.result() ?? NaN,
      };
    },
  };
}
