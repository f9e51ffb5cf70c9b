import { PARTS } from './split-state.ts';
import { advanceCores } from './core-stepper.ts';
import { makeEnergyMeter } from './energy-balance.ts';
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
  /** An instant within the step under way, s, of which the voltages alone are known, V at either end. */
  between(at: number, time: number, endA: number, endB: number): void;
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
  const traces = makeTraces(length);
  const { split } = step;
  const parts = split ? Array.from({ length: PARTS }, () => new Float64Array(length)) : [];
  const jumps = new Uint8Array(length);
  const meter = problem.balance ? makeEnergyMeter(n) : undefined;
  const watch =
    problem.sharesAt.length > 0
      ? makeShareWatch({ instants: problem.sharesAt, classes, sections, factors: cycle.factors, state, wire })
      : undefined;
  let filled = 0;

  function recordCauses(at: number): void {
    if (split) for (let p = 0; p < PARTS; p++) parts[p]![at] = split.v[n * PARTS + p]! - split.v[p]!;
  }

  function record(at: number, solved: StepContext): void {
    recordLines(traces, at, solved);
    recordCauses(at);
    const last = filled - 1;
    filled = at + 1;
    watch?.see(solved.to, solved.lag);
    if (classes.selected >= 0) recordSelected(traces, at, solved);
    if (at - last > 1) fillBetween(traces, last, at);
  }

  return {
    record,
    between(at, time, endA, endB) {
      traces.time[at] = time;
      traces.endA[at] = endA;
      traces.endB[at] = endB;
      recordCauses(at);
    },
    jump(at) {
      jumps[at] = 1;
    },
    begin() {
      meter?.begin(step);
      record(0, step);
    },
    step(solved) {
      meter?.add(solved);
    },
    finish() {
      // What the cores really link at the final currents, not what the last step demanded of them.
      advanceCores(classes, state, standingStep(wire, step.lag), sums);
      wire.flux.set(sums.flux);
      return {
        ...cutTraces(traces, filled),
        jumps: jumps.slice(0, filled),
        parts: parts.map((part) => cut(part, filled)),
        shares: watch?.result() ?? [],
        energy: meter?.result() ?? NO_BALANCE,
        fluxClosure: meter?.closure() ?? NaN,
      };
    },
  };
}

/** What is recorded at each instant of the cycle, SI. */
type Traces = ReturnType<typeof makeTraces>;

function makeTraces(length: number) {
  const make = (): Float64Array => new Float64Array(length);
  return {
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
}

const cut = (trace: Float64Array, filled: number): Float64Array =>
  filled === trace.length ? trace : trace.slice(0, filled);

const cutTraces = (traces: Traces, filled: number): Traces => ({
  time: cut(traces.time, filled),
  endA: cut(traces.endA, filled),
  endB: cut(traces.endB, filled),
  x: cut(traces.x, filled),
  y: cut(traces.y, filled),
  inhibit: cut(traces.inhibit, filled),
  wire: cut(traces.wire, filled),
  selectedFlux: cut(traces.selectedFlux, filled),
  selectedState: cut(traces.selectedState, filled),
  selectedDrive: cut(traces.selectedDrive, filled),
});

/** Voltages at the ends of the wire, currents of the lines, and the mean current of the wire. */
function recordLines(traces: Traces, at: number, { to: time, now, wire, cycle, problem }: StepContext): void {
  const n = problem.sections.count;
  traces.time[at] = time;
  traces.endA[at] = wire.v[0]!;
  traces.endB[at] = wire.v[n]!;
  traces.x[at] = now.x;
  traces.y[at] = now.y;
  traces.inhibit[at] = now.inhibit * cycle.coupling.inhibited;
  let sum = 0;
  for (let k = 0; k < n; k++) sum += wire.j[k]!;
  traces.wire[at] = sum / n;
}

/** Drive, main flux and whole flux of the selected core (core/model.ts). */
function recordSelected(
  traces: Traces,
  at: number,
  { problem: { classes }, cycle: { factors }, state, wire, now, lag }: StepContext,
): void {
  const c = classes.selected;
  const drive = (i: LineCurrents, wireCurrent: Float64Array): number =>
    factors.x[c]! * i.x +
    factors.y[c]! * i.y +
    factors.inhibit[c]! * i.inhibit +
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

/** What is known at the ends of a step alone goes straight between them: currents of the lines, mean current, selected core. */
function fillBetween(traces: Traces, from: number, to: number): void {
  const { time, x, y, inhibit, wire, selectedFlux, selectedState, selectedDrive } = traces;
  const whole = time[to]! - time[from]!;
  for (const trace of [x, y, inhibit, wire, selectedFlux, selectedState, selectedDrive]) {
    const slope = (trace[to]! - trace[from]!) / whole;
    for (let at = from + 1; at < to; at++) trace[at] = trace[from]! + slope * (time[at]! - time[from]!);
  }
}
