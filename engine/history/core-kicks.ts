import { atTemperature, decaySwing, peakEmf, saturationFlux, staticFlux } from '../core/model.ts';
import type { CoreParameters, CoreException, Design } from '../design/design.ts';

/** What a span of drive does to a core, whatever its state: the exact step at fixed drive with its constants worked out. */
interface Kick {
  readonly sign: 1 | -1;
  readonly phiD: number;
  /** phi_s + phi_d and phi_s - phi_d, Wb. */
  readonly span: number;
  readonly offset: number;
  /** tanh(2 v_p h / span). */
  readonly turn: number;
  /** psi tends to `rest` and keeps the fraction `kept` of its distance; kept = 1: untouched. */
  readonly rest: number;
  readonly kept: number;
}

/** A whole cycle, or part of one, as one core feels it. Kicks that move nothing are left out. */
export type KickTrain = readonly Kick[];

/** State of one core while it is kicked, Wb. */
export interface KickedCore {
  phi: number;
  psi: number;
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
  const kicks: Kick[] = [];
  for (let i = 0; i + 1 < drive.jumps.length; i++) {
    const from = drive.jumps[i]!;
    const length = drive.jumps[i + 1]! - from;
    const probes = [0.001, 0.25, 0.5, 0.75, 0.999].map((x) => drive.at(from + x * length));
    const level = probes[2]!;
    const still = probes.every((F) => Math.abs(F - level) <= 1e-9 * Math.abs(level) + 1e-12);
    const pieces = still ? 1 : Math.max(PIECES, Math.ceil(length / LONGEST_PIECE));
    for (let k = 0; k < pieces; k++) {
      const kick = kickOf(p, drive.at(from + ((k + 0.5) * length) / pieces), length / pieces);
      if (kick) kicks.push(kick);
    }
  }
  return kicks;
}

function kickOf(p: CoreParameters, drive: number, h: number): Kick | undefined {
  const F = Math.abs(drive);
  const sign = drive < 0 ? -1 : 1;
  const phiS = saturationFlux(p);
  const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, F);
  const span = phiS + phiD;
  const vP = peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, F);
  const turn = span > 0 ? Math.tanh((2 * vP * h) / span) : 0;
  const excess = F - p.decayThreshold;
  const decays = excess > 0 && p.decayResistance > 0;
  if (turn < NEGLIGIBLE && !decays) return undefined;
  return {
    sign,
    phiD,
    span,
    offset: phiS - phiD,
    turn,
    rest: (sign * decaySwing(p)) / 2,
    kept: decays ? Math.exp((-excess * h) / p.decayCharge) : 1,
  };
}

/** Moves a core by a train of kicks: the bracket's fraction u turns by u1 = (u0 + T)/(1 + u0 T) (core/model.ts). */
export function kick(core: KickedCore, train: KickTrain): void {
  let { phi, psi } = core;
  for (let i = 0; i < train.length; i++) {
    const k = train[i]!;
    const f = k.sign * phi;
    if (f < k.phiD && k.span > 0) {
      const u = (2 * f + k.offset) / k.span;
      if (u > -1) phi = (k.sign * (((u + k.turn) / (1 + u * k.turn)) * k.span - k.offset)) / 2;
    }
    if (k.kept < 1) psi = k.rest + (psi - k.rest) * k.kept;
  }
  core.phi = phi;
  core.psi = psi;
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
