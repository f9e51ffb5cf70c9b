import { decayFlux, decaySwing, peakEmf, saturationFlux, staticFlux, switchFlux } from './model.ts';
import type { CoreParameters } from '../design/design.ts';

/** What a core remembers, Wb: main flux phi and fast flux psi. */
export interface CoreState {
  readonly phi: number;
  readonly psi: number;
}

/** A core that stores a bit and was never disturbed: phi = plus or minus phi_r, psi = plus or minus psi_m/2. */
export const restState = (p: CoreParameters, bit: 0 | 1): CoreState =>
  bit === 1
    ? { phi: p.remanentFlux, psi: decaySwing(p) / 2 }
    : { phi: -p.remanentFlux, psi: -decaySwing(p) / 2 };

/** State of a core that a magnet has held at `bias` ampere-turns for a long time: no further back than it drives it. */
export function settleUnder(p: CoreParameters, state: CoreState, bias: number): CoreState {
  if (bias === 0) return state;
  const sign = Math.sign(bias);
  const held = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, Math.abs(bias));
  return {
    phi: sign * Math.max(sign * state.phi, held),
    psi: Math.abs(bias) > p.decayThreshold ? (sign * decaySwing(p)) / 2 : state.psi,
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
  const f = Math.abs(F);
  const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, f);
  const vP = peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, f);
  return {
    phi: sign * switchFlux(sign * state.phi, saturationFlux(p), phiD, vP, h),
    psi: decayFlux(p, F, state.psi, h),
  };
}
