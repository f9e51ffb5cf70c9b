import { peakEmf, ringFactors, saturationFlux, staticFlux } from './model.ts';
import type { CoreParameters } from '../design/core.ts';

/**
 * Closed forms of the main inelastic part under a step of drive, exact (derived from the bracket of core/model.ts:
 * with u its fraction, du/dt = 2 v_p (1 - u^2)/Dphi, so the EMF is v_p sech^2). The core starts at -phi_r. A core of
 * rings is one bell for each, at the ring's own drive; its EMF is their mean.
 */
export interface Bell {
  /** Wb, remanent flux phi_r: the core starts at -phi_r. */
  readonly phiR: number;
  /** Wb, saturation flux phi_s > phi_r. */
  readonly phiS: number;
  /** Wb, static flux phi_d at the drive. */
  readonly phiD: number;
  /** V, peak EMF v_p at the drive. */
  readonly vP: number;
}

/** The bell of a thin ring with these parameters at a drive F > 0, A: of the whole core when it switches as one. */
export const bellAt = (p: CoreParameters, F: number): Bell => ({
  phiR: p.remanentFlux,
  phiS: saturationFlux(p),
  phiD: staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, F),
  vP: peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, F),
});

/** The bells of a core's rings at a drive F > 0, A, from the inside out. */
export const ringBells = (p: CoreParameters, F: number): readonly Bell[] =>
  ringFactors(p).map((f) => bellAt(p, F / f));

/** Half width at half maximum of sech^2 is arcosh(sqrt 2): full width in units of Dphi/v_p. */
export const HALF_WIDTH = Math.acosh(Math.SQRT2);
/** Full width at a tenth of the peak in units of Dphi/v_p. */
export const TENTH_WIDTH = Math.acosh(Math.sqrt(10));

/** Dphi = phi_s + phi_d, Wb. */
export const bellSpan = (b: Bell): number => b.phiS + b.phiD;

/** u0 = (-2 phi_r + phi_s - phi_d)/Dphi, in (-1, 1): where the core starts on the bell. */
export const bellStart = (b: Bell): number => (-2 * b.phiR + b.phiS - b.phiD) / bellSpan(b);

/** t_p, s: drive on to peak. Negative when the core starts beyond the peak of its bell. */
export const peakTime = (b: Bell): number => (bellSpan(b) / (2 * b.vP)) * Math.atanh(-bellStart(b));

/** v(t), V. */
export function bellEmf(b: Bell, t: number): number {
  const c = Math.cosh((2 * b.vP * (t - peakTime(b))) / bellSpan(b));
  return b.vP / (c * c);
}

/** Full width at half the peak, s: 0.881374 Dphi/v_p. */
export const halfWidth = (b: Bell): number => (HALF_WIDTH * bellSpan(b)) / b.vP;

/** Full width at a tenth of the peak, s: 1.818446 Dphi/v_p. */
export const tenthWidth = (b: Bell): number => (TENTH_WIDTH * bellSpan(b)) / b.vP;

/** t_s, s: drive on to a tenth of the peak on the fall. */
export const switchingTime = (b: Bell): number => peakTime(b) + tenthWidth(b) / 2;

/** Area of the EMF, Wb: phi_d + phi_r. */
export const bellArea = (b: Bell): number => b.phiD + b.phiR;

/** v(0), V. */
export const startEmf = (b: Bell): number => b.vP * (1 - bellStart(b) ** 2);

/** Flux at the peak, Wb: (phi_d - phi_s)/2. */
export const peakFlux = (b: Bell): number => (b.phiD - b.phiS) / 2;

/** Flux phi(t), Wb. */
export const bellFlux = (b: Bell, t: number): number =>
  peakFlux(b) + (bellSpan(b) / 2) * Math.tanh((2 * b.vP * (t - peakTime(b))) / bellSpan(b));

/**
 * A bell from its peak v_p (V), peak time and switching time (s), the core starting at -phi_r and coming to rest at
 * phi_d = rest * phi_r: Dphi = (t_s - t_p) v_p/0.909223, u0 = -tanh(2 v_p t_p/Dphi). Needs 0 < t_p < t_s.
 */
export function invertBell(vP: number, tP: number, tS: number, rest = 1): Bell {
  const span = ((tS - tP) * vP * 2) / TENTH_WIDTH;
  const u0 = -Math.tanh((2 * vP * tP) / span);
  const phiR = (span * (1 - u0)) / (2 * (1 + rest));
  const phiD = rest * phiR;
  return { phiR, phiS: span - phiD, phiD, vP };
}
