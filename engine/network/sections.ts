import { senseResistance } from '../mat/wire-at-temperature.ts';
import type { Design } from '../design/design.ts';
import { atTemperature } from '../core/model.ts';
import type { WirePath } from '../mat/winding.ts';
import { cutAt, findPlaces, makePlaces, PLACES } from './core-places.ts';

/**
 * The sense (or shared) wire as a ladder: `count` sections between `count + 1` nodes, cable sections (no cores)
 * before and after. Node 0 is end A, the last node end B; section current is positive from A to B.
 */
export interface Sections {
  readonly count: number;
  /** Sections of leads at either end; 0: none. */
  readonly leads: number;
  /** Section of each core by core index; -1 where this wire does not thread it. */
  readonly ofCore: Int32Array;
  /**
   * A core counts in part in its own section and in its neighbours, so that its place on the wire is right to higher
   * order than the section's length (see sharesAround): the sections (-1: none) and the parts counted there, PLACES
   * entries a core.
   */
  readonly places: Int32Array;
  readonly shares: Float64Array;
  /** Per section: ohm, H (without ferrite), F and S. */
  readonly resistance: Float64Array;
  readonly inductance: Float64Array;
  readonly capacitance: Float64Array;
  readonly leakage: Float64Array;
  /** s: the inductance (own and elastic) answers the current with this lag, as if R_p = L/lossTime lay in parallel. */
  readonly lossTime: number;
  /** Node at the joint of two halves; -1 without halves. */
  readonly joint: number;
  /** Per node: S to the surroundings (terminations, amplifier input, leakage). */
  readonly conductance: Float64Array;
  /** Per node: factor of the inhibit current that enters it (sums to zero); all zero where the wire carries none. */
  readonly injection: Float64Array;
}

/** Calls `visit` with every section in which a core counts, and with its share there. */
export function eachSection(
  sections: Sections,
  core: number,
  visit: (section: number, share: number, part: number) => void,
): void {
  for (let part = 0; part < PLACES; part++) {
    const at = core * PLACES + part;
    if (sections.places[at]! >= 0) visit(sections.places[at]!, sections.shares[at]!, part);
  }
}

/** A short is this many ohms. */
export const SHORT = 1e-3;

/** One-way delay of the bare wire with its cores, s: N sqrt(L_c C_c), L_c = own inductance + elastic a. */
export function wireDelay(design: Design, cores: number): number {
  return cores * Math.sqrt(inductancePerCore(design) * design.wire.capacitancePerCore);
}

/** Characteristic impedance sqrt(L_c / C_c), ohm. */
export function wireImpedance(design: Design): number {
  return Math.sqrt(inductancePerCore(design) / design.wire.capacitancePerCore);
}

function inductancePerCore(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  return design.wire.inductancePerCore + (p.elasticKnee + p.elasticSaturated) / 2;
}

/**
 * How many sections: each so short that its delay is small beside what the wire's own loss leaves of a kink (a front
 * that has run a delay T along a wire of loss time tau is sqrt(tau T) wide), and on a short wire beside the edge.
 */
export function chooseSections(design: Design, cores: number): number {
  if (design.numerics.sections !== undefined) return Math.min(design.numerics.sections, cores);
  const delay = wireDelay(design, cores);
  const { x, y, inhibit } = design.drive;
  const edge = Math.min(x.rise, x.fall, y.rise, y.fall, inhibit.rise, inhibit.fall);
  const front = Math.sqrt(design.wire.lossTime * delay);
  const piece = Math.max(0.2e-9, Math.min(Math.max(edge / 60, front / 10), front / 8));
  return Math.min(cores, Math.max(4, Math.ceil(delay / piece)));
}

/** Cuts the wire into `wanted` sections so that the selected core sits in the middle of its own. */
export function cutSections(design: Design, path: WirePath, wanted: number): Sections {
  const parts = path.halves ? 2 : 1;
  const perPart = path.order.length / parts;
  const size = Math.max(1, perPart / Math.max(1, Math.round(wanted / parts)));
  const selected = design.selected.row * design.mat.columns + design.selected.column;
  const position = path.order.indexOf(selected) % perPart;
  const ofCore = new Int32Array(design.mat.rows * design.mat.columns).fill(-1);
  const places = new Int32Array(PLACES * ofCore.length).fill(-1);
  const shares = new Float64Array(places.length);
  const lengths: number[] = [];
  const found = makePlaces();

  const cable = cableSections(design, size);
  const offset = cable.count;
  let joint = -1;
  for (let part = 0; part < parts; part++) {
    const bounds = boundaries(perPart, size, position + 0.5);
    const firstSection = offset + lengths.length;
    for (let k = 0; k + 1 < bounds.length; k++) lengths.push(bounds[k + 1]! - bounds[k]!);
    const cut = cutAt(bounds);
    let k = 0;
    for (let i = 0; i < perPart; i++) {
      while (k + 2 < bounds.length && i + 0.5 >= bounds[k + 1]!) k++;
      const core = path.order[part * perPart + i]!;
      ofCore[core] = firstSection + k;
      findPlaces(found, cut, k, i + 0.5);
      for (let n = 0, to = core * PLACES; n < found.count; n++) {
        if (Math.abs(found.share[n]!) <= 1e-9) continue;
        places[to] = firstSection + found.section[n]!;
        shares[to++] = found.share[n]!;
      }
    }
    if (parts === 2 && part === 0) joint = offset + lengths.length;
  }

  const count = lengths.length + 2 * offset;
  const { wire } = design;
  const fill = (perCore: number, perCable: number): Float64Array =>
    Float64Array.from({ length: count }, (_, k) =>
      k < offset || k >= offset + lengths.length ? perCable : perCore * lengths[k - offset]!,
    );
  const inductance = fill(wire.inductancePerCore, cable.inductance);
  const conductance = new Float64Array(count + 1);
  const leakage = fill(wire.leakagePerCore, 0);
  for (let k = 0; k < count; k++) {
    conductance[k]! += leakage[k]! / 2;
    conductance[k + 1]! += leakage[k]! / 2;
  }
  const toGround = (ohm: number): number => 1 / Math.max(ohm, SHORT);
  conductance[0]! += toGround(design.terminations.a) + toGround(design.amplifier.inputResistance);
  conductance[count]! += toGround(design.terminations.b) + toGround(design.amplifier.inputResistance);
  if (joint >= 0) conductance[joint]! += toGround(design.terminations.joint);

  const injection = new Float64Array(count + 1);
  if (path.shared) {
    if (path.halves) {
      injection[0] = -1;
      injection[joint] = 2;
      injection[count] = -1;
    } else {
      injection[0] = -1;
      injection[count] = 1;
    }
  }
  return {
    count,
    leads: offset,
    ofCore,
    places,
    shares,
    resistance: fill(senseResistance(design), cable.resistance),
    inductance,
    capacitance: fill(wire.capacitancePerCore, cable.capacitance),
    leakage,
    lossTime: wire.lossTime,
    joint,
    conductance,
    injection,
  };
}

/** Section boundaries in core positions 0..n, with `centre` in the middle of a section; slivers join their neighbour. */
function boundaries(n: number, size: number, centre: number): number[] {
  const bounds = [0];
  let next = centre - size / 2 - Math.floor((centre - size / 2) / size) * size;
  // A third exactly is a sliver at either end, so that a wire seen from its other end is cut in the same places.
  const sliver = (size / 3) * (1 + 1e-9);
  for (; next < n; next += size) if (next - bounds.at(-1)! > sliver) bounds.push(next);
  if (n - bounds.at(-1)! < sliver && bounds.length > 1) bounds.pop();
  bounds.push(n);
  return bounds;
}

/** s, one way along a section of leads at most, beside sections of the wire of so many s. */
export const leadSection = (ofWire: number): number => Math.max(ofWire, 0.2e-9);

function cableSections(
  design: Design,
  coresPerSection: number,
): { count: number; inductance: number; capacitance: number; resistance: number } {
  const { cable } = design.wire;
  if (cable.delay === 0) return { count: 0, inductance: 0, capacitance: 0, resistance: 0 };
  const piece = wireDelay(design, coresPerSection);
  const count = Math.max(2, Math.ceil(cable.delay / leadSection(piece)));
  return {
    count,
    inductance: (cable.impedance * cable.delay) / count,
    capacitance: cable.delay / cable.impedance / count,
    resistance: cable.resistance / count,
  };
}
