import {
  decayFlux,
  elasticFlux,
  elasticSlope,
  peakEmf,
  ringFactors,
  saturationFlux,
  staticFlux,
  switchFlux,
} from '../../core/model.ts';
import { meanOf, type CoreState } from '../../core/state.ts';
import type { CoreParameters } from '../../design/core.ts';

/** Ampere-turns at even instants, as an instrument gives them. */
export interface SampledCurrent {
  /** s, of the first sample. */
  readonly start: number;
  /** s between samples. */
  readonly step: number;
  /** A. */
  readonly current: Float64Array;
  /**
   * A/V: the source gives way by so much for each volt of the core (1 over its resistance, as seen on the line); the
   * samples are then what flows into a line without it. Left out: the current was measured as it flowed.
   */
  readonly sag?: number;
}

/** EMF of one core, V, as the mean over each step: between samples k and k + 1. */
export interface CoreAnswer {
  readonly emf: Float64Array;
  /** A, as it flowed. */
  readonly current: Float64Array;
  readonly end: CoreState;
}

/** s: steps inside a sample, between which the current runs straight. */
const LONGEST_STEP = 5e-9;

/**
 * The answer of one core to a sampled current: the exact step at the mean current of each step, EMF as the change of
 * linkage over it, so that its sum is the change of flux whatever the step. A source gives way to the switching flux of
 * the step before, which is stable while sag times switching resistance stays under one.
 */
export function coreUnderCurrent(p: CoreParameters, initial: CoreState, drive: SampledCurrent): CoreAnswer {
  const { sag = 0 } = drive;
  const parts = Math.max(1, Math.ceil(drive.step / LONGEST_STEP - 1e-9));
  const h = drive.step / parts;
  const open = drive.current;
  const current = Float64Array.from(open);
  const emf = new Float64Array(open.length - 1);
  const factors = ringFactors(p);
  const phiS = saturationFlux(p);
  const rings = Float64Array.from(factors, (_, k) => initial.rings?.[k] ?? initial.phi);
  let { phi, psi } = initial;
  let now = open[0]!;
  let linkage = phi + psi + elasticFlux(p, now, phi);
  let before = linkage;
  let switching = 0;
  for (let n = 0; n + 1 < open.length; n++) {
    for (let part = 1; part <= parts; part++) {
      const without = open[n]! + ((open[n + 1]! - open[n]!) * part) / parts - sag * switching;
      // The elastic part follows the current at once: taken along at its slope, for it would swing one step late.
      const along = sag === 0 ? 0 : (sag * elasticSlope(p, now, phi)) / h;
      const next = (without + along * now) / (1 + along);
      const F = (now + next) / 2;
      const sign = F < 0 ? -1 : 1;
      for (let k = 0; k < factors.length; k++) {
        const local = Math.abs(F) / factors[k]!;
        const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, local);
        if (sign * rings[k]! >= phiD) continue;
        const vP = peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, local);
        rings[k] = sign * switchFlux(sign * rings[k]!, phiS, phiD, vP, h);
      }
      const inelastic = phi + psi;
      phi = meanOf(rings);
      psi = decayFlux(p, F, psi, h);
      switching = (phi + psi - inelastic) / h;
      now = next;
      linkage = phi + psi + elasticFlux(p, now, phi);
    }
    current[n + 1] = now;
    emf[n] = (linkage - before) / drive.step;
    before = linkage;
  }
  return { emf, current, end: { phi, psi, ...(factors.length > 1 ? { rings: [...rings] } : {}) } };
}
