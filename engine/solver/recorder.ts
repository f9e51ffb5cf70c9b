import { advanceSplit, beginSplit, makeSplit, PARTS, type StepSources } from './contributions.ts';
import { advanceCores, type LineCurrents } from './core-stepper.ts';
import type { Difference } from './difference.ts';
import { makeEnergyMeter } from './energy-balance.ts';
import type { EnergyBalance } from './result.ts';
import type { CycleRun, Ear, Recording, Run } from './run-problem.ts';
import { makeShareWatch } from './share-watch.ts';
import { roleSum, type WireState } from './wire-state.ts';

/** Watches the observed cycle: traces, contributions, energy, flux closure. */
export interface Observer {
  begin(): void;
  /** The step that starts at this instant begins after a slope jump. */
  jump(at: number): void;
  /** @param lag line currents at the end of the step as every inductance sees them */
  step(d: Difference, now: LineCurrents, next: LineCurrents, lag: LineCurrents, sources: StepSources): void;
  /** @param lag line currents as the elastic flux sees them */
  record(at: number, time: number, now: LineCurrents, lag: LineCurrents): void;
  finish(): Omit<Recording, 'steps' | 'finalPhi' | 'before' | 'failedAt' | 'cancelledAt'>;
}

export const makeEar = (length: number): Ear => ({
  time: new Float64Array(length),
  jumps: new Uint8Array(length),
  endA: new Float64Array(length),
  endB: new Float64Array(length),
});

export const cutEar = ({ time, jumps, endA, endB }: Ear, length: number): Ear => ({
  time: time.slice(0, length),
  jumps: jumps.slice(0, length),
  endA: endA.slice(0, length),
  endB: endB.slice(0, length),
});

export function listen(ear: Ear, at: number, time: number, wire: WireState): void {
  ear.time[at] = time;
  ear.endA[at] = wire.v[0]!;
  ear.endB[at] = wire.v[wire.sections.count]!;
}

const NO_BOOKS: EnergyBalance = {
  source: NaN,
  resistive: NaN,
  stored: NaN,
  cores: NaN,
  residual: NaN,
  delivered: NaN,
};

export function makeObserver(run: Run, cycle: CycleRun, length: number): Observer {
  const { problem, wire, state, sums } = run;
  const { classes, sections } = problem;
  const n = sections.count;
  const make = (): Float64Array => new Float64Array(length);
  const traces = {
    time: make(),
    endA: make(),
    endB: make(),
    parts: problem.split ? Array.from({ length: PARTS }, make) : [],
    x: make(),
    y: make(),
    inhibit: make(),
    wire: make(),
    selectedFlux: make(),
    selectedState: make(),
    selectedDrive: make(),
  };
  const jumps = new Uint8Array(length);
  const split = makeSplit(n + 1);
  const meter = problem.books ? makeEnergyMeter() : undefined;
  const start = new Float64Array(n);
  const area = new Float64Array(n);
  const swing = new Float64Array(n);
  const emf = new Float64Array(n);
  let filled = 0;

  const emfOf = (k: number, j: Float64Array, v: Float64Array): number =>
    v[k]! - v[k + 1]! - sections.resistance[k]! * j[k]!;
  const linkage = (k: number): number =>
    sections.inductance[k]! * wire.lag[k]! + wire.air[k]! + roleSum(wire.flux, wire.stride, k);

  const watch =
    problem.sharesAt.length > 0
      ? makeShareWatch({ instants: problem.sharesAt, classes, sections, factors: cycle.factors, state, wire })
      : undefined;
  const lastLag: LineCurrents = { x: 0, y: 0, inhibit: 0 };
  function record(at: number, time: number, now: LineCurrents, lag: LineCurrents): void {
    traces.time[at] = time;
    traces.endA[at] = wire.v[0]!;
    traces.endB[at] = wire.v[n]!;
    for (let p = 0; p < traces.parts.length; p++)
      traces.parts[p]![at] = split.v[n * PARTS + p]! - split.v[p]!;
    traces.x[at] = now.x;
    traces.y[at] = now.y;
    traces.inhibit[at] = now.inhibit * cycle.coupling.inhibited;
    let sum = 0;
    for (let k = 0; k < n; k++) {
      sum += wire.j[k]!;
      if (!meter) continue;
      const moved = Math.abs(linkage(k) - start[k]!);
      if (moved > swing[k]!) swing[k] = moved;
    }
    traces.wire[at] = sum / n;
    filled = at + 1;
    watch?.see(time, lag);
    lastLag.x = lag.x;
    lastLag.y = lag.y;
    lastLag.inhibit = lag.inhibit;
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
      meter?.begin(wire, sums.line);
      for (let k = 0; k < n; k++) {
        start[k] = linkage(k);
        emf[k] = emfOf(k, wire.j, wire.v);
      }
      record(0, 0, { x: 0, y: 0, inhibit: 0 }, { x: 0, y: 0, inhibit: 0 });
    },
    step(d, now, next, lag, sources) {
      if (problem.split) advanceSplit(split, wire, d, sums, cycle.coupling, sources, problem.clamp);
      if (!meter) return;
      meter.step(
        wire,
        d,
        cycle.coupling,
        now,
        next,
        lag,
        sums.flux,
        run.linkages,
        sources.vx,
        sources.vy,
        problem.clamp,
      );
      for (let k = 0; k < n; k++) {
        const e = emfOf(k, wire.jNext, wire.vNext);
        // After a kink the EMF starts from a value of its own, not from the one before.
        area[k]! += d.w === 0 ? d.h * e : (d.h * (emf[k]! + e)) / 2;
        emf[k] = e;
      }
    },
    finish() {
      // What the cores really link at the final currents, not what the last step demanded of them.
      advanceCores(classes, state, 0, lastLag, wire.j, lastLag, wire.lag, 1, sums);
      wire.flux.set(sums.flux);
      let closure = 0;
      let most = 0;
      for (let k = 0; k < n; k++) if (swing[k]! > most) most = swing[k]!;
      for (let k = 0; k < n; k++)
        closure = Math.max(closure, most === 0 ? 0 : Math.abs(area[k]! - (linkage(k) - start[k]!)) / most);
      const cut = (a: Float64Array): Float64Array => (filled === a.length ? a : a.slice(0, filled));
      return {
        time: cut(traces.time),
        jumps: jumps.slice(0, filled),
        endA: cut(traces.endA),
        endB: cut(traces.endB),
        parts: traces.parts.map(cut),
        x: cut(traces.x),
        y: cut(traces.y),
        inhibit: cut(traces.inhibit),
        wire: cut(traces.wire),
        selectedFlux: cut(traces.selectedFlux),
        selectedState: cut(traces.selectedState),
        selectedDrive: cut(traces.selectedDrive),
        shares: watch?.result() ?? [],
        energy: meter?.result() ?? NO_BOOKS,
        fluxClosure: meter ? closure : NaN,
      };
    },
  };
}
