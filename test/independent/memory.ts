import { elasticAt, rateAt } from './core-law.ts';
import { currentAt } from './truth.ts';
import type { Truth } from './truth.ts';

/** What the integrator gives, every `step` from 0. */
export interface Record {
  readonly step: number;
  /** V, end B minus end A. */
  readonly sense: Float64Array;
  /** V at the amplifier's output. */
  readonly amplifier: Float64Array;
  /** A. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Wb of the selected core's whole linkage, before and after. */
  readonly linkage: readonly [number, number];
}

/**
 * Runs a truth: lumps of wire with the cores on them, nodes between, all by the two-step backward formula with a fixed
 * step and two passes of Newton's method a step; each core's flux by the classic fourth-order method within the
 * step. Slow and simple. A read of a few microseconds on 8 x 8 takes a fraction of a second.
 * @param step s @param perLump cores to a lump of wire
 */
export function runTruth(t: Truth, { step = 0.25e-9, perLump = 8, until = t.duration } = {}): Record {
  const count = Math.max(1, Math.round(t.order.length / perLump));
  const lumpOf = new Int32Array(t.cores.length);
  const size = new Float64Array(count);
  t.order.forEach((core, position) => {
    const k = Math.min(count - 1, Math.floor((position * count) / t.order.length));
    lumpOf[core] = k;
    size[k]! += 1;
  });
  const steps = Math.ceil(until / step);
  const onRow = (i: number): boolean => {
    const r = Math.floor(i / t.columns);
    return r === t.row || r === t.alsoRow;
  };
  const onColumn = (i: number): boolean => {
    const c = i % t.columns;
    return c === t.column || c === t.alsoColumn;
  };
  const cores = alike(
    t.cores.map((core, i) => ({
      ...core,
      k: lumpOf[i]!,
      X: onRow(i) ? 1 : 0,
      Y: onColumn(i) ? 1 : 0,
      index: i,
      count: core.missing ? 0 : 1,
    })),
    t.row * t.columns + t.column,
  );
  const airX = new Float64Array(count);
  const airY = new Float64Array(count);
  t.cores.forEach(({ sign }, i) => {
    if (onRow(i)) airX[lumpOf[i]!]! += sign * t.wire.mutualX;
    if (onColumn(i)) airY[lumpOf[i]!]! += sign * t.wire.mutualY;
  });
  const inductance = size.map((n) => n * t.wire.inductance);
  const resistance = size.map((n) => n * t.wire.resistance);
  if (t.badJoint !== undefined) {
    const k = Math.min(count - 1, Math.floor((t.badJoint.after * count) / t.order.length));
    resistance[k]! += t.badJoint.ohm;
  }
  const capacitance = new Float64Array(count + 1);
  size.forEach((n, k) => {
    capacitance[k]! += (n * t.wire.capacitance) / 2;
    capacitance[k + 1]! += (n * t.wire.capacitance) / 2;
  });
  const conductance = new Float64Array(count + 1);
  conductance[0] = Math.min(t.ends[0], 1e4);
  conductance[count] = Math.min(t.ends[1], 1e4);
  const enters = new Float64Array(count + 1);
  enters[0] = -1;
  enters[count] = t.halves ? -1 : 1;
  if (t.halves) enters[Math.round(count / 2)]! += 2;

  const { lag } = t.wire;
  const phi = Float64Array.from(cores, (c) => settled(c.law.flux, c.flux, c.magnet, c.law.coercive));
  const trial = Float64Array.from(phi);
  const drive = Float64Array.from(cores, (c) => c.magnet);
  let [i0, i1] = [new Float64Array(count), new Float64Array(count)];
  let [lag0, lag1] = [new Float64Array(count), new Float64Array(count)];
  let [v0, v1] = [new Float64Array(count + 1), new Float64Array(count + 1)];
  const slope = new Float64Array(count);
  const linkageAt = (
    lagged: Float64Array,
    lagX: number,
    lagY: number,
    fluxes: Float64Array,
    out: Float64Array,
  ): void => {
    for (let k = 0; k < count; k++) {
      out[k] = inductance[k]! * lagged[k]! + airX[k]! * lagX + airY[k]! * lagY;
      slope[k] = inductance[k]!;
    }
    for (let n = 0; n < cores.length; n++) {
      const c = cores[n]!;
      const F = c.X * lagX + c.Y * lagY + c.sign * lagged[c.k]! + c.magnet;
      const [el, el1] = elasticAt(c.law, F, fluxes[n]!);
      out[c.k]! += c.count * c.sign * (fluxes[n]! + el);
      slope[c.k]! += c.count * el1;
    }
  };
  let [L0, L1] = [new Float64Array(count), new Float64Array(count)];
  linkageAt(lag1, 0, 0, phi, L1);
  L0.set(L1);
  const chosen = cores.findIndex((c) => c.index === t.row * t.columns + t.column);
  const wholeOf = (n: number): number =>
    n < 0 ? 0 : phi[n]! + elasticAt(cores[n]!.law, drive[n]!, phi[n]!)[0];
  const before = wholeOf(chosen);

  const out = {
    sense: new Float64Array(steps + 1),
    x: new Float64Array(steps + 1),
    y: new Float64Array(steps + 1),
  };
  let [X0, X1, Y0, Y1] = [0, 0, 0, 0];
  const i2 = new Float64Array(count);
  const lag2 = new Float64Array(count);
  const v2 = new Float64Array(count + 1);
  const L2 = new Float64Array(count);
  const c32 = 1.5 / step;
  const backward = (now: number, old: number): number => (2 * now - 0.5 * old) / step;
  const share = 1 / (1 + lag * c32);
  for (let n = 1; n <= steps; n++) {
    const at = n * step;
    const [x, y] = [currentAt(t.x, at), currentAt(t.y, at)];
    const z = currentAt(t.inhibit, at);
    const lagX = share * (x + lag * backward(X1, X0));
    const lagY = share * (y + lag * backward(Y1, Y0));
    for (let k = 0; k < count; k++) i2[k] = 2 * i1[k]! - i0[k]!;
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < count; k++) lag2[k] = share * (i2[k]! + lag * backward(lag1[k]!, lag0[k]!));
      for (let m = 0; m < cores.length; m++) {
        const c = cores[m]!;
        const F1 = c.X * x + c.Y * y + c.sign * i2[c.k]! + c.magnet;
        trial[m] = switched(c.law, drive[m]!, F1, phi[m]!, step);
      }
      linkageAt(lag2, lagX, lagY, trial, L2);
      // v_k - v_(k+1) = R i + dL/dt, with dL/dt = c32 (L2 + slope share (i - i2)) - backward(L1, L0)
      const own = slope.map((s, k) => resistance[k]! + c32 * share * s);
      const rest = L2.map((L, k) => c32 * (L - share * slope[k]! * i2[k]!) - backward(L1[k]!, L0[k]!));
      solveNodes(v2, own, rest, (k) => ({
        diagonal: c32 * capacitance[k]! + conductance[k]!,
        source: capacitance[k]! * backward(v1[k]!, v0[k]!) + enters[k]! * z,
      }));
      for (let k = 0; k < count; k++) i2[k] = (v2[k]! - v2[k + 1]! - rest[k]!) / own[k]!;
    }
    for (let k = 0; k < count; k++) lag2[k] = share * (i2[k]! + lag * backward(lag1[k]!, lag0[k]!));
    for (let m = 0; m < cores.length; m++) {
      const c = cores[m]!;
      const F1 = c.X * x + c.Y * y + c.sign * i2[c.k]! + c.magnet;
      phi[m] = switched(c.law, drive[m]!, F1, phi[m]!, step);
      drive[m] = F1;
    }
    linkageAt(lag2, lagX, lagY, phi, L2);
    [X0, X1, Y0, Y1] = [X1, lagX, Y1, lagY];
    [i0, i1] = [i1, i0];
    i1.set(i2);
    [lag0, lag1] = [lag1, lag0];
    lag1.set(lag2);
    [v0, v1] = [v1, v0];
    v1.set(v2);
    [L0, L1] = [L1, L0];
    L1.set(L2);
    out.sense[n] = v2[count]! - v2[0]!;
    out.x[n] = x;
    out.y[n] = y;
  }
  return { step, ...out, amplifier: amplify(t, out.sense, step), linkage: [before, wholeOf(chosen)] };
}

interface Placed {
  readonly law: object;
  readonly sign: number;
  readonly flux: number;
  readonly magnet: number;
  readonly k: number;
  readonly X: number;
  readonly Y: number;
  readonly index: number;
  readonly count: number;
}

/** Cores of one lump that cannot differ are counted once; the chosen one stands for itself. */
function alike<Core extends Placed>(cores: readonly Core[], chosen: number): Core[] {
  const laws = new Map<object, number>();
  const groups = new Map<string, Core>();
  for (const core of cores) {
    if (core.count === 0) continue;
    if (!laws.has(core.law)) laws.set(core.law, laws.size);
    const own = core.index === chosen ? 'chosen' : '';
    const key = [laws.get(core.law), core.sign, core.flux, core.magnet, core.k, core.X, core.Y, own].join();
    groups.set(key, { ...core, count: (groups.get(key)?.count ?? 0) + 1 });
  }
  return [...groups.values()];
}

/** A core beside a magnet rests no further back than the magnet holds it. */
function settled(whole: number, flux: number, magnet: number, coercive: number): number {
  return Math.abs(magnet) > 1.2 * coercive ? Math.sign(magnet) * whole : flux;
}

/** Flux after a step in which the drive goes straight from F0 to F1. */
function switched(
  law: Parameters<typeof rateAt>[0],
  F0: number,
  F1: number,
  flux: number,
  h: number,
): number {
  const least = 0.55 * law.threshold;
  if (Math.abs(F0) < least && Math.abs(F1) < least) return flux;
  const middle = (F0 + F1) / 2;
  const a = rateAt(law, F0, flux);
  const b = rateAt(law, middle, flux + (h / 2) * a);
  const c = rateAt(law, middle, flux + (h / 2) * b);
  const d = rateAt(law, F1, flux + h * c);
  return flux + (h / 6) * (a + 2 * b + 2 * c + d);
}

/** Node voltages: C dv/dt + G v = i_(k-1) - i_k + source, currents eliminated; a tridiagonal system. */
function solveNodes(
  v: Float64Array,
  own: Float64Array,
  rest: Float64Array,
  node: (k: number) => { diagonal: number; source: number },
): void {
  const count = own.length;
  const diagonal = new Float64Array(count + 1);
  const upper = new Float64Array(count);
  for (let k = 0; k <= count; k++) {
    const { diagonal: d, source } = node(k);
    const [left, right] = [k > 0 ? 1 / own[k - 1]! : 0, k < count ? 1 / own[k]! : 0];
    diagonal[k] = d + left + right;
    v[k] = source - (k > 0 ? rest[k - 1]! * left : 0) + (k < count ? rest[k]! * right : 0);
    if (k < count) upper[k] = -right;
  }
  for (let k = 1; k <= count; k++) {
    const factor = upper[k - 1]! / diagonal[k - 1]!;
    diagonal[k]! -= factor * upper[k - 1]!;
    v[k]! -= factor * v[k - 1]!;
  }
  v[count]! /= diagonal[count]!;
  for (let k = count - 1; k >= 0; k--) v[k] = (v[k]! - upper[k]! * v[k + 1]!) / diagonal[k]!;
}

/** One pole, gain and a hard limit. */
function amplify({ amplifier }: Truth, sense: Float64Array, step: number): Float64Array {
  const keep = Math.exp(-2 * Math.PI * amplifier.bandwidth * step);
  let state = 0;
  return sense.map((v) => {
    state = keep * state + (1 - keep) * v * amplifier.gain;
    return Math.max(-amplifier.limit, Math.min(amplifier.limit, state));
  });
}
