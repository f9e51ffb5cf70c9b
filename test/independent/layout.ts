import type { CoreLaw } from './core-law.ts';
import type { Truth } from './truth.ts';

/** A core, or `count` that cannot differ, in lump k; X and Y are 1 where the line goes through it. */
export interface Placed {
  readonly law: CoreLaw;
  readonly sign: number;
  readonly flux: number;
  readonly magnet: number;
  readonly k: number;
  readonly X: number;
  readonly Y: number;
  readonly index: number;
  readonly count: number;
}

/** A truth cut into lumps of wire, `count` of them, with nodes between and at both ends. */
export interface Layout {
  readonly count: number;
  readonly cores: readonly Placed[];
  /** Place of the selected core among them, -1 where it is missing. */
  readonly chosen: number;
  /** H to X and Y, H, ohm: of each lump. */
  readonly airX: Float64Array;
  readonly airY: Float64Array;
  readonly inductance: Float64Array;
  readonly resistance: Float64Array;
  /** F, S and share of the inhibit current that enters: of each node. */
  readonly capacitance: Float64Array;
  readonly conductance: Float64Array;
  readonly enters: Float64Array;
}

export function layOut(t: Truth, perLump: number): Layout {
  const count = Math.max(1, Math.round(t.order.length / perLump));
  const lumpAfter = (position: number): number =>
    Math.min(count - 1, Math.floor((position * count) / t.order.length));
  const lumpOf = new Int32Array(t.cores.length);
  const size = new Float64Array(count);
  t.order.forEach((core, position) => {
    lumpOf[core] = lumpAfter(position);
    size[lumpOf[core]!]! += 1;
  });
  const driven = t.cores.map((_, i) => {
    const [r, c] = [Math.floor(i / t.columns), i % t.columns];
    return { X: r === t.row || r === t.alsoRow ? 1 : 0, Y: c === t.column || c === t.alsoColumn ? 1 : 0 };
  });
  const selected = t.row * t.columns + t.column;
  const present = t.cores
    .map((core, index) => ({ ...core, ...driven[index]!, k: lumpOf[index]!, index, count: 1 }))
    .filter(({ missing }) => !missing);
  const cores = alike(present, selected);
  const [airX, airY] = [new Float64Array(count), new Float64Array(count)];
  t.cores.forEach(({ sign }, i) => {
    airX[lumpOf[i]!]! += sign * driven[i]!.X * t.wire.mutualX;
    airY[lumpOf[i]!]! += sign * driven[i]!.Y * t.wire.mutualY;
  });
  const resistance = size.map((n) => n * t.wire.resistance);
  if (t.badJoint !== undefined) resistance[lumpAfter(t.badJoint.after)]! += t.badJoint.ohm;
  return {
    count,
    cores,
    chosen: cores.findIndex(({ index }) => index === selected),
    airX,
    airY,
    inductance: size.map((n) => n * t.wire.inductance),
    resistance,
    ...nodesOf(t, size),
  };
}

function nodesOf(t: Truth, size: Float64Array): Pick<Layout, 'capacitance' | 'conductance' | 'enters'> {
  const last = size.length;
  const capacitance = new Float64Array(last + 1);
  size.forEach((n, k) => {
    capacitance[k]! += (n * t.wire.capacitance) / 2;
    capacitance[k + 1]! += (n * t.wire.capacitance) / 2;
  });
  const conductance = new Float64Array(last + 1);
  conductance[0] = Math.min(t.ends[0], 1e4);
  conductance[last] = Math.min(t.ends[1], 1e4);
  const enters = new Float64Array(last + 1);
  enters[0] = -1;
  enters[last] = t.halves ? -1 : 1;
  if (t.halves) enters[Math.round(last / 2)]! += 2;
  return { capacitance, conductance, enters };
}

/** Cores of one lump that cannot differ are counted once; the chosen one stands for itself. */
function alike(cores: readonly Placed[], chosen: number): Placed[] {
  const laws = new Map<object, number>();
  const groups = new Map<string, Placed>();
  for (const core of cores) {
    if (!laws.has(core.law)) laws.set(core.law, laws.size);
    const own = core.index === chosen ? 'chosen' : '';
    const key = [laws.get(core.law), core.sign, core.flux, core.magnet, core.k, core.X, core.Y, own].join();
    groups.set(key, { ...core, count: (groups.get(key)?.count ?? 0) + 1 });
  }
  return [...groups.values()];
}
