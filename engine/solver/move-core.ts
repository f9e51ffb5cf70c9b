import type { CoreClasses } from '../network/core-classes.ts';
import { CURVES, type CoreState } from './core-state.ts';
import type { CoreStep } from './core-step.ts';

/**
 * Main part of the first `count` moving classes; remembers the drives at which each is at rest. The formulas are those of
 * core/model.ts (staticFlux, peakEmf, switchFlux); a test holds the two together.
 */
export function movePhi(classes: CoreClasses, state: CoreState, count: number, { h }: CoreStep): void {
  const { phiS: phiSs, rho, softWidth } = classes;
  const { phi: fluxes, stillBelow, stillAbove, quiet, restingTail, moving, drives, anchor, curves } = state;
  for (let m = 0; m < count; m++) {
    const c = moving[m]!;
    const F = drives[m]!;
    const sign = F < 0 ? -1 : 1;
    const drive = sign * F;
    const at = c * CURVES;
    let away = drive - anchor[c]!;
    // NaN where there is no anchor yet.
    if (!(Math.abs(away) < curves[at]!)) {
      dropAnchor(classes, state, c, m);
      away = 0;
    }
    const phi = sign * fluxes[c]!;
    const phiD =
      curves[at + 1]! + away * (curves[at + 2]! + away * (curves[at + 3]! + away * curves[at + 4]!));
    if (phi >= phiD) {
      // phi_d rises with the drive: at rest here means at rest at every weaker drive of this sign.
      if (F > 0) stillBelow[c] = F;
      else stillAbove[c] = F;
      continue;
    }
    const reach =
      curves[at + 5]! + away * (curves[at + 6]! + away * (curves[at + 7]! + away * curves[at + 8]!));
    const phiS = phiSs[c]!;
    const span = phiS + phiD;
    if (span <= 0) continue;
    const u0 = (2 * phi + phiS - phiD) / span;
    if (u0 <= -1) continue;
    const x = (2 * rho[c]! * softWidth[c]! * (reach - restingTail[c]!) * h) / span;
    const T = x < SHORT ? x * (1 - x * x * (1 / 3 - x * x * (2 / 15 - (x * x * 17) / 315))) : Math.tanh(x);
    const u1 = (u0 + T) / (1 + u0 * T);
    fluxes[c] = (sign * (u1 * span - phiS + phiD)) / 2;
    // Having moved, it may be free to move back at once.
    if (sign > 0) stillAbove[c] = -quiet[c]!;
    else stillBelow[c] = quiet[c]!;
  }
}

/** Knee widths that a drive may be away from a class's anchor: the series of its curves then are exact to 1e-9. */
const ANCHORED = 0.02;

/**
 * In a hold a core stands at nearly the same drive step after step: its static curve and its softplus are worked out at one
 * drive, the anchor, with three derivatives, and carried from there.
 */
function dropAnchor(classes: CoreClasses, state: CoreState, c: number, m: number): void {
  const { anchor, curves, drives } = state;
  const drive = Math.abs(drives[m]!);
  const knee = classes.kneeWidth[c]!;
  const width = classes.softWidth[c]!;
  const phiR = classes.phiR[c]!;
  const at = c * CURVES;
  anchor[c] = drive;
  curves[at] = ANCHORED * Math.min(knee, width);
  const s = 1 / (1 + Math.exp((classes.coercive[c]! - drive) / knee));
  const slope = s * (1 - s);
  curves[at + 1] = phiR * (2 * s - 1);
  curves[at + 2] = (2 * phiR * slope) / knee;
  curves[at + 3] = (phiR * slope * (1 - 2 * s)) / (knee * knee);
  curves[at + 4] = (phiR * slope * (1 - 6 * s * (1 - s))) / (3 * knee * knee * knee);
  const above = (drive - classes.threshold[c]!) / width;
  const e = Math.exp(-Math.abs(above));
  const part = (above > 0 ? 1 : e) / (1 + e);
  const turn = part * (1 - part);
  curves[at + 5] = Math.max(0, above) + Math.log1p(e);
  curves[at + 6] = part / width;
  curves[at + 7] = turn / (2 * width * width);
  curves[at + 8] = (turn * (1 - 2 * part)) / (6 * width * width * width);
}

/** Below this tanh is its series, exact to rounding. */
const SHORT = 0.02;

/** tanh, by its series where that is exact to rounding. */
export function shortTanh(x: number): number {
  const x2 = x * x;
  return x < SHORT ? x * (1 - x2 * (1 / 3 - x2 * (2 / 15 - (x2 * 17) / 315))) : Math.tanh(x);
}
