import type { CoreParameters } from '../design/core.ts';
import { decaySwing, peakEmf, ringFactors, saturationFlux, staticFlux } from './model.ts';
import { meanOf } from './state.ts';

/** A core under a drive that is known beforehand: what each span of it does, with its constants worked out once. */

/** What a span of drive does to a core, whatever its state: the exact step at fixed drive with its constants worked out. */
export interface Kick {
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

/**
 * Drives of fixed ampere-turns, each for so many s, one after the other, as a core feels them.
 * @param least relative flux below which a kick is left out
 */
export function kicksBy(
  p: CoreParameters,
  spans: Iterable<{ readonly drive: number; readonly length: number }>,
  least = 0,
): KickTrain {
  const factors = ringFactors(p);
  const rings: Kick[][] = factors.map(() => []);
  const decays: Decay[] = [];
  for (const { drive, length } of spans) {
    factors.forEach((f, ring) => {
      const kick = kickOf(p, drive / f, length);
      if (kick && kick.turn > least) rings[ring]!.push(kick);
    });
    const decay = decayOf(p, drive, length);
    if (decay) decays.push(decay);
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
  if (!(turn > 0)) return undefined;
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
  core.psi = decayed(core.psi, train.decays);
}

/** psi, Wb, after these spans. */
export function decayed(psi: number, decays: readonly Decay[]): number {
  for (const { rest, kept } of decays) psi = rest + (psi - rest) * kept;
  return psi;
}

/** Does a kick find flux, Wb, at rest? */
export const restsAt = ({ sign, phiD }: Kick, phi: number): boolean => sign * phi >= phiD;

/** So many kicks, with nothing in between, as one: artanh of what they turn adds up. */
export const repeat = (kick: Kick, times: number): Kick => ({
  ...kick,
  turn: Math.tanh(times * Math.atanh(kick.turn)),
});

/** Flux, Wb, after kicks: the bracket's fraction u turns by u1 = (u0 + T)/(1 + u0 T) (core/model.ts). */
export function turned(phi: number, kicks: readonly Kick[]): number {
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
