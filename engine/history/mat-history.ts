import { senseResistance } from '../mat/wire-at-temperature.ts';
import { kicksOf, parametersOf } from './core-kicks.ts';
import { kick, type KickedCore, type KickTrain } from '../core/kicks.ts';
import { disturbedState } from '../core/disturb.ts';
import { fluxOf, putState, stateAt, type CoreFlux } from '../core/flux-of-cores.ts';
import { ringFactors } from '../core/model.ts';
import { restState } from '../core/state.ts';
import { halfReads } from '../drive/at-temperature.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import { cycleProgramme, pulseValue } from '../drive/programme.ts';
import { givesWay } from '../drive/line-voltage.ts';
import type { Simulation } from '../solver/result.ts';
import { wirePath } from '../mat/winding.ts';

/**
 * The cores of a whole mat from cycle to cycle without the network: every core is moved by the currents that its
 * lines carry. What the fast way leaves out: the sense wire's own current (a fraction of a milliampere against a
 * knee of hundreds), the delay of the inhibit current along a shared wire, and what an inhibit clamp takes of it. A
 * line behind a voltage, or one whose source may reach its limit, carries the current that full runs gave it, one for
 * a word that keeps the bit and one for the other.
 */
export interface MatHistory {
  /** Wb, row-major, live. */
  readonly flux: CoreFlux;
  /** What the mat is meant to hold, 0/1. */
  readonly bits: Uint8Array;
  /** Moves every core through one cycle. */
  apply(cycle: Cycle): void;
  /** Moves one core (row-major index) in a state of its own; what the mat holds stays as it is. */
  move(cycle: Cycle, index: number, core: KickedCore): void;
}

/** Currents of a cycle as a full run gave them; `time` uniform. */
export type LineRun = Pick<Simulation, 'time' | 'currents'>;

export interface MatHistoryOptions {
  /** A full run that reads and restores each bit, needed where a line gives way (line-voltage.ts). */
  readonly currents?: (bit: 0 | 1) => LineRun;
  readonly bits: Uint8Array;
}

export function makeMatHistory(design: Design, options: MatHistoryOptions): MatHistory {
  const { rows, columns } = design.mat;
  const exceptions = new Map(design.exceptions.map((e) => [e.row * columns + e.column, e]));
  const kinds = [undefined, ...design.exceptions];
  const kindOf = Int32Array.from({ length: rows * columns }, (_, i) => {
    const e = exceptions.get(i);
    return e === undefined ? 0 : kinds.indexOf(e);
  });
  const parameters = kinds.map((e) => parametersOf(design, e));
  const flux = startingFlux(design, options.bits, kindOf, parameters);
  const bits = options.bits.slice();
  const turns = inhibitTurns(design);
  const tables = new Map<string, (KickTrain | undefined)[]>();
  const core: KickedCore = { phi: 0, psi: 0 };

  const tableOf = (cycle: Cycle, inhibited: boolean): (KickTrain | undefined)[] => {
    const key = `${cycle.read} ${cycle.write} ${inhibited} ${cycle.lines}`;
    let table = tables.get(key);
    if (table === undefined) tables.set(key, (table = []));
    return table;
  };
  const makeTrain = (
    cycle: Cycle,
    inhibited: boolean,
    kind: number,
    lines: number,
    turn: number,
  ): KickTrain => {
    const drive = driveOf(design, cycle, inhibited, options.currents);
    const bias = kinds[kind]?.bias ?? 0;
    return kicksOf(parameters[kind]!, {
      jumps: drive.jumps,
      at: (t) => (lines & 1 ? drive.x(t) : 0) + (lines & 2 ? drive.y(t) : 0) + turn * drive.inhibit(t) + bias,
    });
  };

  const isInhibited = (cycle: Cycle): boolean => {
    const bit = bits[cycle.row * columns + cycle.column];
    return cycle.lines === 'both' && (cycle.write === 'zero' || (cycle.write === 'restore' && bit === 0));
  };
  const trainOf = (
    table: (KickTrain | undefined)[],
    cycle: Cycle,
    inhibited: boolean,
    i: number,
  ): KickTrain | undefined => {
    const r = Math.floor(i / columns);
    const lines =
      (cycle.lines !== 'y' && r === cycle.row ? 1 : 0) |
      (cycle.lines !== 'x' && i - r * columns === cycle.column ? 2 : 0);
    if (lines === 0 && !inhibited && kindOf[i] === 0) return undefined;
    const turn = inhibited ? turns[i]! : 0;
    const slot = kindOf[i]! * 12 + lines * 3 + Math.sign(turn) + 1;
    return (table[slot] ??= makeTrain(cycle, inhibited, kindOf[i]!, lines, turn));
  };

  return {
    flux,
    bits,
    apply(cycle) {
      const inhibited = isInhibited(cycle);
      const table = tableOf(cycle, inhibited);
      for (let i = 0; i < flux.phi.length; i++) {
        const train = trainOf(table, cycle, inhibited, i);
        if (train === undefined || !train.moves) continue;
        core.phi = flux.phi[i]!;
        core.psi = flux.psi[i]!;
        if (flux.rings) core.rings = stateAt(flux, i).rings;
        kick(core, train);
        putState(flux, i, core);
      }
      const own = cycle.row * columns + cycle.column;
      if (cycle.lines === 'both') bits[own] = bitWritten(cycle, bits[own]!);
    },
    move(cycle, index, one) {
      const inhibited = isInhibited(cycle);
      const train = trainOf(tableOf(cycle, inhibited), cycle, inhibited, index);
      if (train !== undefined) kick(one, train);
    },
  };
}

/** What a cycle is meant to leave in the addressed core. */
export function bitWritten(cycle: Cycle, bit: number): number {
  if (cycle.write === 'one') return 1;
  return cycle.write === 'restore' || !cycle.read ? bit : 0;
}

/** Every core in the design's initial state for its bit. */
function startingFlux(
  design: Design,
  bits: Uint8Array,
  kindOf: Int32Array,
  parameters: readonly ReturnType<typeof parametersOf>[],
): CoreFlux {
  const rest = parameters.map((p) => {
    const undisturbed = { one: restState(p, 1), zero: restState(p, 0) };
    if (design.initialState === 'undisturbed') return undisturbed;
    return disturbedState(p, halfReads(design));
  });
  const of = (i: number): KickedCore => (bits[i] === 1 ? rest[kindOf[i]!]!.one : rest[kindOf[i]!]!.zero);
  return fluxOf(
    Array.from(bits, (_, i) => of(i)),
    ringFactors(design.core.parameters).length,
  );
}

/**
 * Ampere-turns per ampere of inhibit that each core sees. A shared wire carries it from end B to end A (two halves:
 * from the joint to either end), a separate one always against the write.
 */
function inhibitTurns(design: Design): Float64Array {
  const path = wirePath(design);
  const turns = new Float64Array(design.mat.rows * design.mat.columns).fill(-1);
  if (!path.shared) return turns;
  const share = inhibitShare(design, path.order.length);
  path.order.forEach((index, position) => {
    const second = path.halves && position >= path.order.length / 2;
    turns[index] = path.polarity[index]! * (second ? share : -share);
  });
  return turns;
}

/**
 * Part of the inhibit current that stays in a shared wire once it stands: the wire's resistance is in parallel with
 * the terminations (with the joint's in series for two halves, so that an open joint leaves all of it in the wire).
 */
export function inhibitShare(design: Design, cores: number): number {
  const { terminations, winding, amplifier } = design;
  const end = (ohm: number): number => 1 / (1 / Math.max(ohm, 1e-3) + 1 / amplifier.inputResistance);
  const halves = winding.kind === 'shared-two-halves';
  const around = halves
    ? (end(terminations.a) + end(terminations.b)) / 2 + 2 * terminations.joint
    : end(terminations.a) + end(terminations.b);
  const along = (halves ? cores / 2 : cores) * senseResistance(design);
  return along === 0 || around === Infinity ? 1 : around / (around + along);
}

function driveOf(
  design: Design,
  cycle: Cycle,
  inhibited: boolean,
  currents: MatHistoryOptions['currents'],
): {
  jumps: readonly number[];
  x: (t: number) => number;
  y: (t: number) => number;
  inhibit: (t: number) => number;
} {
  const programme = cycleProgramme(design, cycle, inhibited);
  const jumps = [0, ...programme.jumps, design.cycle.period];
  const inhibit = (t: number): number => pulseValue(programme.inhibit, t);
  const line = (name: 'x' | 'y'): ((t: number) => number) => {
    if (!givesWay(design, name)) return (t) => pulseValue(programme[name], t);
    if (currents === undefined)
      throw new RangeError('A line whose current gives way needs full runs for it; none were given.');
    const run = currents(inhibited ? 0 : 1);
    const trace = run.currents[name];
    const step = run.time[1]! - run.time[0]!;
    const write = Math.min(...programme[name].filter((p) => p.amplitude > 0).map((p) => p.on));
    return (t) => {
      const within = t < write ? cycle.read : cycle.write !== 'none';
      return within ? (trace[Math.min(trace.length - 1, Math.round(t / step))] ?? 0) : 0;
    };
  };
  return { jumps, x: line('x'), y: line('y'), inhibit };
}
