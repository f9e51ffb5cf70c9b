import { elasticAt, rateAt, type CoreLaw } from './core-law.ts';
import { currentAt } from './currents.ts';
import { layOut, type Layout } from './layout.ts';
import { solveNodes } from './solve-nodes.ts';
import type { Truth } from './truth.ts';

/** What the integrator gives, every `step` from 0. */
export interface Run {
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

/** Where all stands at one instant but for the cores: currents, what the ferrite's lag makes of them, voltages, linkages. */
interface Instant {
  readonly i: Float64Array;
  readonly lagged: Float64Array;
  readonly v: Float64Array;
  readonly linkage: Float64Array;
  readonly lagX: number;
  readonly lagY: number;
}

/** Flux and drive of every core of the layout: they change in place. */
interface Cores {
  readonly phi: Float64Array;
  readonly drive: Float64Array;
}

/**
 * Runs a truth: lumps of wire with the cores on them, nodes between, all by the two-step backward formula with a fixed
 * step and two passes of Newton's method a step; each core's flux by the classic fourth-order method within the
 * step. Slow and simple. A read of a few microseconds on 8 x 8 takes a fraction of a second.
 * @param options s of a step, cores to a lump of wire, s until which to run
 */
export function runTruth(t: Truth, { step = 0.25e-9, perLump = 8, until = t.duration } = {}): Run {
  const lay = layOut(t, perLump);
  const cores: Cores = {
    phi: Float64Array.from(lay.cores, (c) => settled(c.law, c.flux, c.magnet)),
    drive: Float64Array.from(lay.cores, (c) => c.magnet),
  };
  const wholeOf = (n: number): number =>
    n < 0 ? 0 : cores.phi[n]! + elasticAt(lay.cores[n]!.law, cores.drive[n]!, cores.phi[n]!)[0];
  const before = wholeOf(lay.chosen);
  const nothing = new Float64Array(lay.count);
  const { linkage } = linked(lay, nothing, 0, 0, cores.phi);
  let now: Instant = {
    i: nothing,
    lagged: nothing,
    v: new Float64Array(lay.count + 1),
    linkage,
    lagX: 0,
    lagY: 0,
  };
  let old = now;
  const steps = Math.ceil(until / step);
  const times = Float64Array.from({ length: steps + 1 }, (_, n) => n * step);
  const [x, y] = [times.map((s) => currentAt(t.x, s)), times.map((s) => currentAt(t.y, s))];
  const sense = new Float64Array(steps + 1);
  for (let n = 1; n <= steps; n++) {
    const inhibit = currentAt(t.inhibit, times[n]!);
    const next = advance(lay, cores, { now, old }, { x: x[n]!, y: y[n]!, inhibit, lag: t.wire.lag, step });
    [old, now] = [now, next];
    sense[n] = next.v[lay.count]! - next.v[0]!;
  }
  return { step, sense, x, y, amplifier: amplify(t, sense, step), linkage: [before, wholeOf(lay.chosen)] };
}

interface Act {
  readonly x: number;
  readonly y: number;
  readonly inhibit: number;
  readonly lag: number;
  readonly step: number;
}

/** One step; the cores are left where they then are. */
function advance(
  lay: Layout,
  { phi, drive }: Cores,
  { now, old }: { readonly now: Instant; readonly old: Instant },
  { x, y, inhibit, lag, step }: Act,
): Instant {
  const c32 = 1.5 / step;
  const past = (a: number, b: number): number => (2 * a - 0.5 * b) / step;
  const share = 1 / (1 + lag * c32);
  const lagX = share * (x + lag * past(now.lagX, old.lagX));
  const lagY = share * (y + lag * past(now.lagY, old.lagY));
  const drives = (i: Float64Array) =>
    Float64Array.from(lay.cores, (c) => c.X * x + c.Y * y + c.sign * i[c.k]! + c.magnet);
  const moved = (F: Float64Array) =>
    phi.map((flux, m) => switched(lay.cores[m]!.law, drive[m]!, F[m]!, flux, step));
  const laggedOf = (i: Float64Array) =>
    i.map((a, k) => share * (a + lag * past(now.lagged[k]!, old.lagged[k]!)));
  let i = now.i.map((a, k) => 2 * a - old.i[k]!);
  let v = now.v;
  for (let pass = 0; pass < 2; pass++) {
    const { linkage, slope } = linked(lay, laggedOf(i), lagX, lagY, moved(drives(i)));
    // v_k - v_(k+1) = R i + dL/dt, with dL/dt = c32 (L + slope share (i - i2)) - past(L)
    const own = slope.map((s, k) => lay.resistance[k]! + c32 * share * s);
    const rest = linkage.map(
      (L, k) => c32 * (L - share * slope[k]! * i[k]!) - past(now.linkage[k]!, old.linkage[k]!),
    );
    v = solveNodes(own, rest, (k) => ({
      diagonal: c32 * lay.capacitance[k]! + lay.conductance[k]!,
      source: lay.capacitance[k]! * past(now.v[k]!, old.v[k]!) + lay.enters[k]! * inhibit,
    }));
    i = i.map((_, k) => (v[k]! - v[k + 1]! - rest[k]!) / own[k]!);
  }
  const F = drives(i);
  phi.set(moved(F));
  drive.set(F);
  const lagged = laggedOf(i);
  return { i, lagged, v, linkage: linked(lay, lagged, lagX, lagY, phi).linkage, lagX, lagY };
}

/** Linkage of every lump with what is on it, and its slope against the lump's own current. */
function linked(lay: Layout, lagged: Float64Array, lagX: number, lagY: number, phi: Float64Array) {
  const linkage = lagged.map((i, k) => lay.inductance[k]! * i + lay.airX[k]! * lagX + lay.airY[k]! * lagY);
  const slope = Float64Array.from(lay.inductance);
  lay.cores.forEach((c, n) => {
    const F = c.X * lagX + c.Y * lagY + c.sign * lagged[c.k]! + c.magnet;
    const [elastic, perAmpere] = elasticAt(c.law, F, phi[n]!);
    linkage[c.k]! += c.count * c.sign * (phi[n]! + elastic);
    slope[c.k]! += c.count * perAmpere;
  });
  return { linkage, slope };
}

/** A core beside a magnet rests no further back than the magnet holds it. */
const settled = (law: CoreLaw, flux: number, magnet: number): number =>
  Math.abs(magnet) > 1.2 * law.coercive ? Math.sign(magnet) * law.flux : flux;

/** Flux after a step in which the drive goes straight from F0 to F1. */
function switched(law: CoreLaw, F0: number, F1: number, flux: number, h: number): number {
  const least = 0.55 * law.threshold;
  if (Math.abs(F0) < least && Math.abs(F1) < least) return flux;
  const middle = (F0 + F1) / 2;
  const a = rateAt(law, F0, flux);
  const b = rateAt(law, middle, flux + (h / 2) * a);
  const c = rateAt(law, middle, flux + (h / 2) * b);
  const d = rateAt(law, F1, flux + h * c);
  return flux + (h / 6) * (a + 2 * b + 2 * c + d);
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
