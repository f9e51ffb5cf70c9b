import {
  atTemperature,
  decaySwing,
  peakEmf,
  ringFactors,
  saturationFlux,
  staticFlux,
} from '../core/model.ts';
import { meanOf } from '../core/state.ts';
import type { CoreParameters, CoreException } from '../design/core.ts';
import type { Design } from '../design/design.ts';

/** What a span of drive does to a core, whatever its state: the exact step at fixed drive with its constants worked out. */
interface Kick {
  readonly sign: 1 | -1;
  readonly phiD: number;
  /** phi_s + phi_d and phi_s - phi_d, Wb. */
  readonly span: number;
  readonly offset: number;
  /** tanh(2 v_p h / span). */
  readonly turn: number;
}

/** The same for the decaying part: psi tends to `rest` and keeps the fraction `kept` of its distance. */
interface Decay {
  readonly rest: number;
  readonly kept: number;
}

/** A whole cycle, or part of one, as one core feels it. Kicks that move nothing are left out. */
export interface KickTrain {
  /** Of each ring from the inside out; of the whole core when it switches as one. */
  readonly rings: readonly (readonly Kick[])[];
  readonly decays: readonly Decay[];
  /** Does it move anything? */
  readonly moves: boolean;
}

/** State of one core while it is kicked, Wb; see CoreState. Kicks replace `rings` and leave the old list as it is. */
export interface KickedCore {
  phi: number;
  psi: number;
  rings?: readonly number[];
}

/** Ampere-turns against time between slope jumps; `jumps` sorted, s. */
export interface DriveOverTime {
  readonly jumps: ArrayLike<number>;
  readonly at: (t: number) => number;
}

/** Pieces of a span over which the drive moves; one is exact where it stands still. */
const PIECES = 24;
/** s: no piece of a moving drive is longer. */
const LONGEST_PIECE = 10e-9;
/** Relative flux below which a kick is left out. */
const NEGLIGIBLE = 1e-11;

/**
 * A drive as kicks: between slope jumps in pieces at the drive of their middle (second order in the piece, exact
 * where the drive stands still), because with a prescribed drive everything but the core's own state is known
 * beforehand.
 */
export function kicksOf(p: CoreParameters, drive: DriveOverTime): KickTrain {
  const factors = ringFactors(p);
  const rings: Kick[][] = factors.map(() => []);
  const decays: Decay[] = [];
  for (let i = 0; i + 1 < drive.jumps.length; i++) {
    const from = drive.jumps[i]!;
    const length = drive.jumps[i + 1]! - from;
    const probes = [0.001, 0.25, 0.5, 0.75, 0.999].map((x) => drive.at(from + x * length));
    const level = probes[2]!;
    const still = probes.every((F) => Math.abs(F - level) <= 1e-9 * Math.abs(level) + 1e-12);
    const pieces = still ? 1 : Math.max(PIECES, Math.ceil(length / LONGEST_PIECE));
    for (let k = 0; k < pieces; k++) {
      const F = drive.at(from + ((k + 0.5) * length) / pieces);
      factors.forEach((f, ring) => {
        const kick = kickOf(p, F / f, length / pieces);
        if (kick) rings[ring]!.push(kick);
      });
      const decay = decayOf(p, F, length / pieces);
      if (decay) decays.push(decay);
    }
  }
  return { rings, decays, moves: decays.length > 0 || rings.some((kicks) => kicks.length > 0) };
}

function kickOf(p: CoreParameters, drive: number, h: number): Kick | undefined {
  const F = Math.abs(drive);
  const sign = drive < 0 ? -1 : 1;
  const phiS = saturationFlux(p);
  const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, F);
  const span = phiS + phiD;
  const vP = peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, F);
  const turn = span > 0 ? Math.tanh((2 * vP * h) / span) : 0;
  if (turn < NEGLIGIBLE) return undefined;
  return { sign, phiD, span, offset: phiS - phiD, turn };
}

function decayOf(p: CoreParameters, drive: number, h: number): Decay | undefined {
  const excess = Math.abs(drive) - p.decayThreshold;
  if (!(excess > 0 && p.decayResistance > 0)) return undefined;
  return {
    rest: ((drive < 0 ? -1 : 1) * decaySwing(p)) / 2,
    kept: Math.exp((-excess * h) / p.decayCharge),
  };
}

/** Moves a core by a train of kicks. */
export function kick(core: KickedCore, train: KickTrain): void {
  if (train.rings.length === 1) core.phi = turned(core.phi, train.rings[0]!);
  else {
    core.rings = train.rings.map((kicks, k) => turned(core.rings?.[k] ?? core.phi, kicks));
    core.phi = meanOf(core.rings);
  }
  for (const { rest, kept } of train.decays) core.psi = rest + (core.psi - rest) * kept;
}

/** The bracket's fraction u turns by u1 = (u0 + T)/(1 + u0 T) (core/model.ts). */
function turned(phi: number, kicks: readonly Kick[]): number {
  for (let i = 0; i < kicks.length; i++) {
    const k = kicks[i]!;
    const f = k.sign * phi;
    if (f < k.phiD && k.span > 0) {
      const u = (2 * f + k.offset) / k.span;
      if (u > -1) phi = (k.sign * (((u + k.turn) / (1 + u * k.turn)) * k.span - k.offset)) / 2;
    }
  }
  return phi;
}

/** Parameters of the design's core at its temperature, with an exception's factors. */
export function parametersOf(design: Design, exception?: CoreException): CoreParameters {
  const p = atTemperature(design.core.parameters, design.temperature);
  if (exception === undefined) return p;
  const { fluxFactor, thresholdFactor } = exception;
  return {
    ...p,
    remanentFlux: p.remanentFlux * fluxFactor,
    switchingResistance: p.switchingResistance * fluxFactor,
    decayResistance: p.decayResistance * fluxFactor,
    coerciveDrive: p.coerciveDrive * thresholdFactor,
    dynamicThreshold: p.dynamicThreshold * thresholdFactor,
    decayThreshold: p.decayThreshold * thresholdFactor,
  };
}
