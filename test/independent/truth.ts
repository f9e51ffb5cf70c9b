import type { Design } from '../../engine/index.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import type { CoreLaw } from './core-law.ts';
import { currentsOf, type Currents } from './currents.ts';

/** A build as it really is: what the independent integrator runs on. */
export interface Truth extends Currents {
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

/** What the integrator does not know, of which a design may hold none. */
const unknownOf = (d: Design): Readonly<Record<string, boolean>> => ({
  'a core in rings': d.core.parameters.ringSpread > 0,
  'a decaying part': d.core.parameters.decayResistance > 0 && d.core.parameters.decayCharge > 0,
  'another temperature': d.temperature !== 25,
  'a history': d.programme.length > 1 || d.initialState !== 'undisturbed',
  'several mats': d.mat.mats !== 1,
  'another winding': !['shared-one-run', 'shared-two-halves'].includes(d.winding.kind),
  'coupling between wires': d.wire.couplingCapacitance > 0,
  'a voltage source': d.drive.x.source.kind === 'voltage' || d.drive.y.source.kind === 'voltage',
  'measured currents': [d.drive.x, d.drive.y].some((l) => l.read !== undefined || l.write !== undefined),
  overshoot: [d.drive.x, d.drive.y, d.drive.inhibit].some((l) => l.overshoot.fraction > 0),
  'a clamp': Number.isFinite(d.drive.inhibit.clamp),
});

/**
 * What a checked design says, written out for the integrator: one observed cycle, fresh cores, one mat, a shared wire,
 * current sources, no capacitance between the wires, no cable. Only the numbers of the design are used.
 * @throws RangeError for what the integrator does not know
 */
export function truthOf(d: Design, departure: Departure = {}): Truth {
  const unknown = Object.entries(unknownOf(d)).filter(([, has]) => has);
  if (unknown.length > 0)
    throw new RangeError(
      `The independent integrator does not know ${unknown.map(([what]) => what).join(', ')}.`,
    );
  const halves = d.winding.kind === 'shared-two-halves';
  const { order, signs } = path(d.mat.rows, d.mat.columns, halves);
  return {
    rows: d.mat.rows,
    columns: d.mat.columns,
    row: d.selected.row,
    column: d.selected.column,
    cores: coresOf(d, departure, signs),
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
    halves,
    ...currentsOf(d),
    duration: d.cycle.period,
    amplifier: {
      gain: d.amplifier.gain * d.amplifier.divider,
      bandwidth: d.amplifier.bandwidth,
      limit: d.amplifier.outputLimit,
    },
  };
}

function lawOf({ core: { parameters: p } }: Design, departure: Departure): CoreLaw {
  return {
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
}

function coresOf(d: Design, departure: Departure, signs: readonly number[]): Truth['cores'] {
  const { rows, columns } = d.mat;
  const law = lawOf(d, departure);
  const normal = normalDeviates(randomStream(departure.seed ?? 1, 77));
  const spread = departure.spread ?? 0;
  return Array.from({ length: rows * columns }, (_, i) => {
    const [r, c] = [Math.floor(i / columns), i % columns];
    const odd = d.exceptions.find((e) => e.row === r && e.column === c);
    const chosen = r === d.selected.row && c === d.selected.column;
    const flux = (odd?.fluxFactor ?? 1) * (1 + spread * normal());
    const soft = (odd?.thresholdFactor ?? 1) * (1 + spread * normal());
    const own = flux === 1 && soft === 1 ? law : scaled(law, flux, soft);
    const elastic = odd?.elasticFactor ?? 1;
    const bit = chosen ? d.selected.bit : storedBit(d, r, c);
    return {
      law: elastic === 1 ? own : withElastic(own, elastic),
      missing: odd?.missing ?? false,
      sign: signs[i]! * (odd?.reversed === true ? -1 : 1),
      flux: bit === 1 ? own.flux : -own.flux,
      magnet: odd?.bias ?? 0,
    };
  });
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

const withElastic = (law: CoreLaw, factor: number): CoreLaw => ({
  ...law,
  elasticSaturated: law.elasticSaturated * factor,
  elasticKnee: law.elasticKnee * factor,
});

function storedBit({ stored }: Design, r: number, c: number): number {
  const bit = { zeros: 0, ones: 1, checkerboard: (r + c) % 2, 'row-stripes': r % 2, 'column-stripes': c % 2 }[
    stored.kind as 'zeros'
  ];
  if (bit === undefined) throw new RangeError('The independent integrator knows simple patterns only.');
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
