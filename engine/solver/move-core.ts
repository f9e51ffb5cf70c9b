import type { CoreClasses } from '../network/core-classes.ts';
import type { CoreState } from './core-state.ts';

/**
 * Main part; remembers the drives at which the class is at rest. The formulas are those of core/model.ts
 * (staticFlux, peakEmf, switchFlux) with what does not change taken out of the loop; a test holds the two together.
 */
export function movePhi(classes: CoreClasses, state: CoreState, c: number, F: number, h: number): void {
  const sign = F < 0 ? -1 : 1;
  const drive = sign * F;
  const phi = sign * state.phi[c]!;
  const phiR = classes.phiR[c]!;
  const phiD = phiR * (2 / (1 + Math.exp((classes.coercive[c]! - drive) / classes.kneeWidth[c]!)) - 1);
  if (phi >= phiD) {
    // phi_d rises with the drive: at rest here means at rest at every weaker drive of this sign.
    if (F > 0) state.stillBelow[c] = F;
    else state.stillAbove[c] = F;
    return;
  }
  const width = classes.softWidth[c]!;
  const above = (drive - classes.threshold[c]!) / width;
  const reach = above > 36 ? above : Math.log(1 + Math.exp(above));
  const vP = classes.rho[c]! * width * (reach - state.restingTail[c]!);
  const phiS = classes.phiS[c]!;
  const span = phiS + phiD;
  if (span <= 0) return;
  const u0 = (2 * phi + phiS - phiD) / span;
  if (u0 <= -1) return;
  const T = shortTanh((2 * vP * h) / span);
  const u1 = (u0 + T) / (1 + u0 * T);
  state.phi[c] = (sign * (u1 * span - phiS + phiD)) / 2;
  // Having moved, it may be free to move back at once.
  if (sign > 0) state.stillAbove[c] = -state.quiet[c]!;
  else state.stillBelow[c] = state.quiet[c]!;
}

/** tanh, by its series where that is exact to rounding. */
export function shortTanh(x: number): number {
  const x2 = x * x;
  return x < 0.02 ? x * (1 - x2 * (1 / 3 - x2 * (2 / 15 - (x2 * 17) / 315))) : Math.tanh(x);
}

export function movePsi(classes: CoreClasses, psi: Float64Array, c: number, F: number, h: number): void {
  const excess = Math.abs(F) - classes.decayThreshold[c]!;
  if (excess <= 0) return;
  const target = (Math.sign(F) * classes.psiM[c]!) / 2;
  psi[c] = target + (psi[c]! - target) * Math.exp((-excess * h) / classes.decayCharge[c]!);
}
