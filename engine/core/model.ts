import type { CoreParameters } from '../design/core.ts';

/**
 * One ferrite core: formulas only, one function a formula, no state. Letters follow the 1965 paper on
 * computation of flux switching in magnetic circuits (IEEE Transactions on Magnetics, September 1965; abstract
 * read): F ampere-turns in A, phi flux in Wb, v_p peak EMF per turn in V. All odd in (F, phi).
 *
 * The paper's bell is the law of a thin ring. A toroid is RINGS of them in parallel, one round another and each of the
 * same share of the flux: the field falls with the radius, so that ring k is as a core whose thresholds are f_k times
 * those at the mean radius, or, the same, as one under the drive F/f_k. ringSpread 0 makes all alike: one ring.
 */

/** Rings of a core that does not switch as one. Measurements cannot tell 3 from 8; 2 make a step in the knee. */
export const RINGS = 4;

/** f_k from the inside out, of mean 1: thresholds of each ring over those at the mean radius. One where all are alike. */
export function ringFactors({ ringSpread: r }: Pick<CoreParameters, 'ringSpread'>): readonly number[] {
  if (r === 0) return ONE_RING;
  return Array.from({ length: RINGS }, (_, k) => 1 + r * ((2 * k + 1) / RINGS - 1));
}
const ONE_RING = [1] as const;

/** Mean over the rings of a core of what each gives at its own drive F/f_k. */
export function meanOfRings(
  p: Pick<CoreParameters, 'ringSpread'>,
  F: number,
  of: (local: number, ring: number) => number,
): number {
  const factors = ringFactors(p);
  if (factors.length === 1) return of(F, 0);
  let sum = 0;
  for (let k = 0; k < factors.length; k++) sum += of(F / factors[k], k);
  return sum / factors.length;
}

/** Saturation flux phi_s = phi_r / squareness, Wb. */
export const saturationFlux = (p: CoreParameters): number => p.remanentFlux / p.squareness;

/** ln(1 + e^y) without overflow. */
export function softplus(y: number): number {
  return y > 36 ? y : y < -36 ? Math.exp(y) : Math.log1p(Math.exp(y));
}

/** Static curve phi_d(F) for F > 0, Wb: the flux at which a core held at F comes to rest. */
export function staticFlux(phiR: number, coercive: number, width: number, F: number): number {
  return phiR * (2 / (1 + Math.exp((coercive - F) / width)) - 1);
}

/**
 * Peak EMF v_p(F) for F > 0, V: rho (F - F_0) well above threshold. The softplus tail at F = 0 is subtracted so
 * that the rate is continuous through F = 0.
 */
export function peakEmf(rho: number, threshold: number, width: number, F: number): number {
  return rho * width * (softplus((F - threshold) / width) - softplus(-threshold / width));
}

/** The bracket: 1 - u^2 with u = (2 phi + phi_s - phi_d) / (phi_s + phi_d), not below 0. */
export function bellFraction(phi: number, phiS: number, phiD: number): number {
  const u = (2 * phi + phiS - phiD) / (phiS + phiD);
  return Math.max(0, 1 - u * u);
}

/**
 * Flux after a time h at fixed F > 0, exact: with u the bracket's fraction, du/dt = 2 v_p (1 - u^2)/(phi_s +
 * phi_d), so u1 = (u0 + T)/(1 + u0 T) with T = tanh(2 v_p h/(phi_s + phi_d)). Never overshoots phi_d.
 */
export function switchFlux(phi: number, phiS: number, phiD: number, vP: number, h: number): number {
  if (phi >= phiD) return phi;
  const D = phiS + phiD;
  if (D <= 0) return phi;
  const u0 = (2 * phi + phiS - phiD) / D;
  if (u0 <= -1) return phi;
  const T = Math.tanh((2 * vP * h) / D);
  const u1 = (u0 + T) / (1 + u0 * T);
  return (u1 * D - phiS + phiD) / 2;
}

/**
 * Rate d phi/dt at (F, phi), V; odd: rate(-F, -phi) = -rate(F, phi).
 * @param rings where each ring stands (CoreState.rings), when not all at phi
 */
export const switchingRate = (p: CoreParameters, F: number, phi: number, rings?: ArrayLike<number>): number =>
  meanOfRings(p, F, (local, k) => ringRate(p, local, rings?.[k] ?? phi));

function ringRate(p: CoreParameters, F: number, phi: number): number {
  if (F < 0) return -ringRate(p, -F, -phi);
  const phiS = saturationFlux(p);
  const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, F);
  if (phi >= phiD || phiS + phiD <= 0) return 0;
  return (
    peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, F) * bellFraction(phi, phiS, phiD)
  );
}

/** Elastic flux phi_el(F, phi), Wb: a F - b (phi/phi_r) g(F), g = sqrt(F^2 + F_e^2) - F_e. */
export function elasticFlux(p: CoreParameters, F: number, phi: number): number {
  const a = (p.elasticKnee + p.elasticSaturated) / 2;
  const b = (p.elasticKnee - p.elasticSaturated) / 2;
  return a * F - b * (phi / p.remanentFlux) * (Math.hypot(F, p.elasticBend) - p.elasticBend);
}

/** d phi_el / dF, H. */
export function elasticSlope(p: CoreParameters, F: number, phi: number): number {
  const a = (p.elasticKnee + p.elasticSaturated) / 2;
  const b = (p.elasticKnee - p.elasticSaturated) / 2;
  return a - b * (phi / p.remanentFlux) * (F / Math.hypot(F, p.elasticBend));
}

/** d phi_el / d phi at fixed F, dimensionless: what the switching EMF loses (or gains) to the elastic part. */
export function elasticPerFlux(p: CoreParameters, F: number): number {
  const b = (p.elasticKnee - p.elasticSaturated) / 2;
  return (-b * (Math.hypot(F, p.elasticBend) - p.elasticBend)) / p.remanentFlux;
}

/** v_p of the whole core at a drive F > 0, V, as if all its rings were at the top of their bells at once. */
export const greatestEmf = (p: CoreParameters, F: number): number =>
  meanOfRings(p, F, (local) => peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, local));

/** Static curve of the whole core for F > 0, Wb: where it comes to rest when it comes from below. */
export const restingFlux = (p: CoreParameters, F: number): number =>
  meanOfRings(p, F, (local) => staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, local));

/** psi_m = rho_i C_i, Wb: full swing of the decaying inelastic part; it rests at plus or minus psi_m / 2. */
export const decaySwing = (p: CoreParameters): number => p.decayResistance * p.decayCharge;

/** psi after a time h at fixed F, Wb, exact: relaxes to sgn(F) psi_m/2 at the rate (|F| - F_d)/C_i. */
export function decayFlux(p: CoreParameters, F: number, psi: number, h: number): number {
  const excess = Math.abs(F) - p.decayThreshold;
  if (excess <= 0 || p.decayResistance === 0) return psi;
  const target = (Math.sign(F) * decaySwing(p)) / 2;
  return target + (psi - target) * Math.exp((-excess * h) / p.decayCharge);
}

/** Parameters at a temperature in °C: drives scale by 1 + kF (T - 25), fluxes by 1 + kphi (T - 25). */
export function atTemperature(p: CoreParameters, celsius: number): CoreParameters {
  const drive = 1 + p.driveTemperatureCoefficient * (celsius - 25);
  const flux = 1 + p.fluxTemperatureCoefficient * (celsius - 25);
  return {
    ...p,
    coerciveDrive: p.coerciveDrive * drive,
    dynamicThreshold: p.dynamicThreshold * drive,
    decayThreshold: p.decayThreshold * drive,
    remanentFlux: p.remanentFlux * flux,
  };
}
