import type { Design } from '../../engine/index.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import type { CoreLaw } from './core-law.ts';

/** A current of the programme, A against s: straight (or cosine) edges between half-amplitude instants. */
export interface Pulse {
  readonly amplitude: number;
  readonly halfOn: number;
  readonly halfOff: number;
  readonly rise: number;
  readonly fall: number;
  readonly cosine: boolean;
}

/** A build as it really is: what the independent integrator runs on. */
export interface Truth {
  readonly rows: number;
  readonly columns: number;
  readonly row: number;
  readonly column: number;
  /** Row-major: law, direction through the core, flux before the read, ampere-turns of a magnet. */
  readonly cores: readonly { law: CoreLaw; missing: boolean; sign: number; flux: number; magnet: number }[];
  /** Core indices along the wire; lump boundaries are even parts of it. */
  readonly order: readonly number[];
  readonly wire: {
    readonly resistance: number;
    readonly inductance: number;
    readonly capacitance: number;
    readonly lag: number;
    readonly mutualX: number;
    readonly mutualY: number;
  };
  /** ohm: a joint in the wire after this many cores. */
  readonly badJoint?: { readonly after: number; readonly ohm: number };
  /** S at ends A and B. */
  readonly ends: readonly [number, number];
  /** Two halves: inhibit enters at the middle. */
  readonly halves: boolean;
  readonly x: readonly Pulse[];
  readonly y: readonly Pulse[];
  readonly inhibit: readonly Pulse[];
  /** A further line of the same kind driven at once with the row's or the column's own current. */
  readonly alsoRow?: number;
  readonly alsoColumn?: number;
  readonly duration: number;
  readonly amplifier: { readonly gain: number; readonly bandwidth: number; readonly limit: number };
}

/** How a truth departs from the family of the engine's cores. */
export interface Departure {
  readonly skew?: number;
  readonly knee?: CoreLaw['knee'];
  readonly elastic?: CoreLaw['elastic'];
  /** Relative standard deviation of flux and of thresholds from core to core. */
  readonly spread?: number;
  readonly seed?: number;
}

/**
 * What a checked design says, written out for the integrator: one observed cycle, fresh cores, one mat, a shared wire,
 * current sources, no capacitance between the wires, no cable. Only the numbers of the design are used.
 */
export function truthOf(d: Design, departure: Departure = {}): Truth {
  const { rows, columns } = d.mat;
  const p = d.core.parameters;
  const law: CoreLaw = {
    flux: p.remanentFlux,
    squareness: p.squareness,
    coercive: p.coerciveDrive,
    staticWidth: p.staticKneeWidth,
    threshold: p.dynamicThreshold,
    dynamicWidth: p.dynamicKneeWidth,
    rate: p.switchingResistance,
    elasticSaturated: p.elasticSaturated,
    elasticKnee: p.elasticKnee,
    bend: p.elasticBend,
    skew: departure.skew ?? 0,
    knee: departure.knee ?? 'exponential',
    elastic: departure.elastic ?? 'hyperbolic',
  };
  const { order, signs } = path(rows, columns, d.winding.kind === 'shared-two-halves');
  const normal = normalDeviates(randomStream(departure.seed ?? 1, 77));
  const spread = departure.spread ?? 0;
  const cores = Array.from({ length: rows * columns }, (_, i) => {
    const [r, c] = [Math.floor(i / columns), i % columns];
    const odd = d.exceptions.find((e) => e.row === r && e.column === c);
    const chosen = r === d.selected.row && c === d.selected.column;
    const flux = (odd?.fluxFactor ?? 1) * (1 + spread * normal());
    const soft = (odd?.thresholdFactor ?? 1) * (1 + spread * normal());
    const own = flux === 1 && soft === 1 ? law : scaled(law, flux, soft);
    const bit = chosen ? d.selected.bit : storedBit(d, r, c);
    return {
      law: own,
      missing: odd?.missing ?? false,
      sign: signs[i]! * (odd?.reversed === true ? -1 : 1),
      flux: bit === 1 ? own.flux : -own.flux,
      magnet: odd?.bias ?? 0,
    };
  });
  return {
    rows,
    columns,
    row: d.selected.row,
    column: d.selected.column,
    cores,
    order,
    wire: {
      resistance: d.wire.resistancePerCore,
      inductance: d.wire.inductancePerCore,
      capacitance: d.wire.capacitancePerCore,
      lag: d.wire.lossTime,
      mutualX: d.wire.mutualX,
      mutualY: d.wire.mutualY,
    },
    ends: [
      1 / d.terminations.a + 1 / d.amplifier.inputResistance,
      1 / d.terminations.b + 1 / d.amplifier.inputResistance,
    ],
    halves: d.winding.kind === 'shared-two-halves',
    ...programme(d),
    duration: d.cycle.period,
    amplifier: {
      gain: d.amplifier.gain * d.amplifier.divider,
      bandwidth: d.amplifier.bandwidth,
      limit: d.amplifier.outputLimit,
    },
  };
}

/** A core of another cross-section (all its voltages in proportion) and of other thresholds. */
export const scaled = (law: CoreLaw, flux: number, soft: number): CoreLaw => ({
  ...law,
  flux: law.flux * flux,
  rate: law.rate * flux,
  elasticSaturated: law.elasticSaturated * flux,
  elasticKnee: law.elasticKnee * flux,
  coercive: law.coercive * soft,
  staticWidth: law.staticWidth * soft,
  threshold: law.threshold * soft,
  dynamicWidth: law.dynamicWidth * soft,
});

function storedBit({ stored, mat }: Design, r: number, c: number): number {
  const bit = { zeros: 0, ones: 1, checkerboard: (r + c) % 2, 'row-stripes': r % 2, 'column-stripes': c % 2 }[
    stored.kind as 'zeros'
  ];
  if (bit === undefined || mat.mats !== 1)
    throw new Error('The independent integrator knows simple patterns of one mat.');
  return stored.complement ? 1 - bit : bit;
}

/** Boustrophedon, whole or by quadrants; the halves are threaded against each other. */
function path(rows: number, columns: number, halves: boolean): { order: number[]; signs: number[] } {
  const walk = (r0: number, r1: number, c0: number, c1: number): number[] => {
    const cells: number[] = [];
    for (let r = r0; r < r1; r++) {
      const line = Array.from({ length: c1 - c0 }, (_, i) => r * columns + c0 + i);
      cells.push(...((r - r0) % 2 === 0 ? line : line.reverse()));
    }
    return cells;
  };
  const signs = Array.from({ length: rows * columns }, () => 1);
  if (!halves) return { order: walk(0, rows, 0, columns), signs };
  const [r, c] = [rows / 2, columns / 2];
  const first = [...walk(0, r, 0, c), ...walk(r, rows, c, columns)];
  const second = [...walk(0, r, c, columns), ...walk(r, rows, 0, c)];
  for (const i of second) signs[i] = -1;
  return { order: [...first, ...second], signs };
}

function programme(d: Design): Pick<Truth, 'x' | 'y' | 'inhibit'> {
  const { cycle, drive, selected } = d;
  const last = d.programme[d.programme.length - 1]!;
  const writes = last.write !== 'none';
  const line = (l: typeof drive.x, start: number): Pulse[] => {
    const edges = { rise: l.rise, fall: l.fall, cosine: l.edge.kind === 'raised-cosine' };
    const on = start + l.rise / 2;
    const off = on + cycle.readWidth;
    const write = off + cycle.gap;
    return [
      { ...edges, amplitude: -l.readAmplitude, halfOn: on, halfOff: off },
      ...(writes
        ? [{ ...edges, amplitude: l.writeAmplitude, halfOn: write, halfOff: write + cycle.writeWidth }]
        : []),
    ];
  };
  const x = line(drive.x, Math.max(0, -cycle.stagger));
  const y = line(drive.y, Math.max(0, cycle.stagger));
  const keepsZero = last.write === 'zero' || (last.write === 'restore' && selected.bit === 0);
  const z = drive.inhibit;
  const inhibit =
    keepsZero && writes && z.amplitude > 0
      ? [
          {
            amplitude: z.amplitude,
            halfOn: Math.min(x[1]!.halfOn, y[1]!.halfOn) - z.lead,
            halfOff: Math.max(x[1]!.halfOff, y[1]!.halfOff) + z.lag,
            rise: z.rise,
            fall: z.fall,
            cosine: z.edge.kind === 'raised-cosine',
          },
        ]
      : [];
  return { x, y, inhibit };
}

/** Current of a list of pulses at t, A. */
export function currentAt(pulses: readonly Pulse[], t: number): number {
  let sum = 0;
  for (const p of pulses) {
    const part = (from: number, length: number): number => {
      const f = Math.min(1, Math.max(0, (t - from) / length));
      return p.cosine ? (1 - Math.cos(Math.PI * f)) / 2 : f;
    };
    sum += p.amplitude * (part(p.halfOn - p.rise / 2, p.rise) - part(p.halfOff - p.fall / 2, p.fall));
  }
  return sum;
}
