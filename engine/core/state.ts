import {
  decayFlux,
  decaySwing,
  peakEmf,
  ringFactors,
  saturationFlux,
  staticFlux,
  switchFlux,
} from './model.ts';
import type { CoreParameters } from '../design/core.ts';

/** What a core remembers, Wb. */
export interface CoreState {
  /** Main flux. */
  readonly phi: number;
  /** Decaying flux. */
  readonly psi: number;
  /**
   * Where each ring stands, from the inside out: the main flux that the whole core would have if it were all like this
   * ring, so that phi is their mean. Left out: every ring stands at phi.
   */
  readonly rings?: readonly number[];
}

/** A core that stores a bit and was never disturbed: phi = plus or minus phi_r, psi = plus or minus psi_m/2. */
export const restState = (p: CoreParameters, bit: 0 | 1): CoreState =>
  bit === 1
    ? { phi: p.remanentFlux, psi: decaySwing(p) / 2 }
    : { phi: -p.remanentFlux, psi: -decaySwing(p) / 2 };

/** The same state with each ring moved by a law of its own; `factor` is f_k. */
export function moveRings(
  p: CoreParameters,
  { phi, rings }: CoreState,
  law: (phi: number, factor: number, ring: number) => number,
): Omit<CoreState, 'psi'> {
  const factors = ringFactors(p);
  if (factors.length === 1) return { phi: law(phi, 1, 0) };
  const moved = factors.map((f, k) => law(rings?.[k] ?? phi, f, k));
  return { phi: meanOf(moved), rings: moved };
}

export function meanOf(rings: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < rings.length; k++) sum += rings[k];
  return sum / rings.length;
}

/** State of a core that a magnet has held at `bias` ampere-turns for a long time: no further back than it drives it. */
export function settleUnder(p: CoreParameters, state: CoreState, bias: number): CoreState {
  if (bias === 0) return state;
  const sign = Math.sign(bias);
  const F = Math.abs(bias);
  const held = (f: number): number => staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, F / f);
  return {
    ...moveRings(p, state, (phi, f) => sign * Math.max(sign * phi, held(f))),
    psi: F > p.decayThreshold ? (sign * decaySwing(p)) / 2 : state.psi,
  };
}

/** dpsi/dt, V, at drive F. */
export function decayRate(p: CoreParameters, F: number, psi: number): number {
  const excess = Math.abs(F) - p.decayThreshold;
  if (excess <= 0 || p.decayResistance === 0) return 0;
  return (((Math.sign(F) * decaySwing(p)) / 2 - psi) * excess) / p.decayCharge;
}

/**
 * State after h seconds at the fixed drive F, exact for each part; two half steps equal one. Odd in (F, state).
 */
export function advanceCore(p: CoreParameters, state: CoreState, F: number, h: number): CoreState {
  const sign = F < 0 ? -1 : 1;
  const phiS = saturationFlux(p);
  const main = moveRings(p, state, (phi, f) => {
    const local = Math.abs(F) / f;
    const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, local);
    const vP = peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, local);
    return sign * switchFlux(sign * phi, phiS, phiD, vP, h);
  });
  return { ...main, psi: decayFlux(p, F, state.psi, h) };
}
