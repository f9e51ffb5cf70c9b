import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { polarityOf, wirePath } from '../../engine/mat/winding.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { randomDesignFile, type DesignFile } from '../random-design.ts';
import { difference, greatest, peakOf, splitError } from './trace-tools.ts';

/**
 * Relations that hold for any design, each as the departure from it, relative to the peak of the signal unless said
 * otherwise. Used with few designs in the tests and with many in the soak.
 */
const runOf = (file: DesignFile): Simulation =>
  simulate(checkDesign(file), { estimateError: false, contributions: false });

/** The file with its winding written out core by core, sense and inhibit apart. */
function writtenOut(file: DesignFile): {
  readonly file: DesignFile;
  readonly order: number[];
  readonly polarity: number[][];
} {
  const winding = { ...(file.winding as object), segments: 1 };
  const design = checkDesign({ ...file, winding });
  const { rows, columns } = design.mat;
  const flat = polarityOf(design.mat, design.winding);
  const polarity = Array.from({ length: rows }, (_, r) =>
    Array.from(flat.slice(r * columns, (r + 1) * columns)),
  );
  const order = Array.from(wirePath(design).order);
  return { file: { ...file, winding: { kind: 'custom', polarity, order, shared: false } }, order, polarity };
}

const negated = (polarity: number[][]): number[][] => polarity.map((row) => row.map((s) => -s));

/** The wire threaded from its other end: the signal changes its sign and nothing else does. */
export function reversedWinding(seed: number): number {
  const { file, order, polarity } = writtenOut(randomDesignFile(seed, { clamps: false }));
  const { a, b } = file.terminations as { a: string; b: string };
  const there = runOf(file);
  const back = runOf({
    ...file,
    winding: { kind: 'custom', polarity: negated(polarity), order: order.toReversed(), shared: false },
    terminations: { a: b, b: a },
  });
  return (
    difference(
      there.senseVoltage,
      back.senseVoltage.map((u) => -u),
    ) / scaleOf(there)
  );
}

/** Every polarity negated, without capacitance between drive and sense, which knows no polarity. */
export function negatedPolarity(seed: number): number {
  const { file, order, polarity } = writtenOut(randomDesignFile(seed, { clamps: false }));
  const wire = { ...(file.wire as object), couplingCapacitance: '0 F' };
  const there = runOf({ ...file, wire });
  const turned = runOf({
    ...file,
    wire,
    winding: { kind: 'custom', polarity: negated(polarity), order, shared: false },
  });
  return (
    difference(
      there.senseVoltage,
      turned.senseVoltage.map((u) => -u),
    ) / scaleOf(there)
  );
}

/** A cycle in which nothing is driven, put in front, moves the observed one by a period and changes nothing. */
export function idleCycleBefore(seed: number): number {
  const drawn = randomDesignFile(seed, { history: false });
  const programme = drawn.programme as object[];
  // A post-write disturb would be pulsed in the idle cycle too.
  const file = { ...drawn, cycle: { ...(drawn.cycle as object), postWriteDisturb: false } };
  const { row, column } = drawn.selected as { row: number; column: number };
  const idle = { row, column, read: false, write: 'none' };
  const alone = runOf(file);
  const after = runOf({ ...file, programme: [idle, ...programme] });
  return difference(alone.senseVoltage, after.senseVoltage) / scaleOf(alone);
}

/** A gap longer by 100 ns moves the answer to the write by 100 ns: departure over the error that the run reports. */
export function laterWrite(seed: number): number {
  const shift = 100;
  const drawn = randomDesignFile(seed, { history: false, voltage: false, lossless: false });
  // Linear edges end; tails of exponential ones would lie elsewhere under the write.
  const straight = (line: object): object => ({ ...line, edge: { kind: 'linear' }, overshoot: {} });
  const drive = Object.fromEntries(
    Object.entries(drawn.drive as Record<string, object>).map(([name, line]) => [name, straight(line)]),
  );
  const cycle = drawn.cycle as Record<string, string>;
  // And a wire whose current dies between the two.
  const terminations = { a: '100 ohm', b: '100 ohm' };
  const file = { ...drawn, drive, terminations, cycle: { ...cycle, gap: '500 ns' } };
  const soon = simulate(checkDesign(file), { contributions: false });
  const late = runOf({ ...file, cycle: { ...cycle, gap: `${500 + shift} ns` } });
  const width = soon.design.cycle.readWidth;
  const start = Math.ceil((width + 300e-9) / 1e-9);
  let most = 0;
  for (let i = start; i + shift < soon.time.length; i++)
    most = Math.max(most, Math.abs(late.senseVoltage[i + shift]! - soon.senseVoltage[i]!));
  return most / soon.error!.senseVoltage;
}

/** Inductors for cores, on a winding that is balanced: what is left of the sum over one line. */
export function balancedCancels(seed: number): number {
  const drawn = randomDesignFile(seed, { exceptions: false, history: false, voltage: false });
  const kinds = ['separate-diagonal', 'separate-rectangular', 'shared-two-halves'];
  const mat = drawn.mat as { rows: number; columns: number };
  const { row, column } = drawn.selected as { row: number; column: number };
  const drive = drawn.drive as { readonly x: object; readonly y: object };
  const unlimited = { compliance: '1 kV', clamp: '1 kV' };
  const even = (n: number): number => n + (n % 2);
  const inductor = {
    staticKneeWidth: '100 mA',
    dynamicKneeWidth: '100 mA',
    coerciveDrive: '20 A',
    dynamicThreshold: '20 A',
  };
  const file = (kind: string): DesignFile => ({
    ...drawn,
    mat: { rows: even(mat.rows), columns: even(mat.columns) },
    core: { parameters: { ...inductor, elasticSaturated: '1 nH', elasticKnee: '1 nH' } },
    winding: { kind },
    // A wire too short to tell one core's place from another's.
    wire: {
      capacitancePerCore: '0.1 fF',
      inductancePerCore: '1 pH',
      mutualX: '0.3 nH',
      mutualY: '0.2 nH',
      couplingCapacitance: '0 F',
    },
    // Currents as prescribed: at a limit they would follow the winding's own inductance.
    drive: { ...drive, x: { ...drive.x, ...unlimited }, y: { ...drive.y, ...unlimited } },
    terminations: { a: '10 kohm', b: '10 kohm' },
    programme: [{ row, column, write: 'none' }],
    numerics: { sections: 4 },
  });
  const all = Math.abs(greatest(runOf(file('shared-one-run')).senseVoltage));
  return Math.abs(greatest(runOf(file(kinds[seed % 3]!)).senseVoltage)) / all;
}

export interface Account {
  readonly run: Simulation;
  readonly finite: boolean;
  /** Energy left over, and what was left in heat, fields and cores beyond what was given, over what was delivered. */
  readonly energy: number;
  readonly split: number;
  readonly closure: number;
}

/** A run of any valid design: is it finite or named, and do its accounts close? */
export function account(design: Design): Account {
  const run = simulate(design, { estimateError: false });
  const { energy } = run;
  const traces = [
    run.senseVoltage,
    run.commonMode,
    run.amplifierOutput,
    run.currents.x,
    run.currents.y,
    run.currents.sense,
    run.selected.flux,
  ];
  const sums = [
    energy.source,
    energy.resistive,
    energy.stored,
    energy.cores,
    energy.delivered,
    run.fluxClosure,
  ];
  return {
    run,
    finite:
      run.outcome.kind !== 'done' ||
      (traces.every((t) => t.every(Number.isFinite)) && sums.every(Number.isFinite)),
    energy: energy.delivered === 0 ? 0 : Math.abs(energy.residual) / energy.delivered,
    split: run.outcome.kind === 'done' ? splitError(run) : 0,
    closure: run.fluxClosure,
  };
}

/** V: peak of the signal, but no less than a microvolt. */
const scaleOf = (s: Simulation): number => Math.max(1e-6, Math.abs(peakOf(s.time, s.senseVoltage).value));
