import type { CoreClasses } from '../network/core-classes.ts';
import type { CoreState } from './core-state.ts';
import type { CoreStep } from './core-step.ts';
import { shortTanh } from './move-core.ts';

/** Main part of the m-th moving class, of rings: each at its own drive, and the class at rest where all of them are. */
export function moveRings(classes: CoreClasses, state: CoreState, m: number, { h }: CoreStep): void {
  const c = state.moving[m]!;
  const F = state.drives[m]!;
  const sign = F < 0 ? -1 : 1;
  const { rings, powers } = state;
  const { nearness } = classes;
  const count = nearness.length;
  const phiR = classes.phiR[c]!;
  const phiS = classes.phiS[c]!;
  const width = classes.softWidth[c]!;
  const knee = classes.kneeWidth[c]!;
  const speed = 2 * classes.rho[c]! * width * h;
  const tail = state.restingTail[c]!;
  if (!(Math.abs(sign * F - state.anchor[c]!) < ANCHORED * Math.min(knee, width)))
    dropAnchor(classes, state, c, sign * F);
  const away = sign * F - state.anchor[c]!;
  const inKnees = -away / knee;
  const inWidths = away / width;
  let sum = 0;
  let moved = false;
  for (let k = 0, i = c * count, at = 2 * i; k < count; k++, i++, at += 2) {
    const nearer = nearness[k]!;
    let phi = sign * rings[i]!;
    const phiD = phiR * (2 / (1 + powers[at]! * shortExp(inKnees * nearer)) - 1);
    if (phi < phiD) {
      const power = powers[at + 1]!;
      const reach =
        power > ALL_ABOVE
          ? (sign * F * nearer - classes.threshold[c]!) / width
          : logOfOneAnd(power * shortExp(inWidths * nearer));
      const span = phiS + phiD;
      const u0 = (2 * phi + phiS - phiD) / span;
      const T = shortTanh((speed * (reach - tail)) / span);
      phi = (((u0 + T) / (1 + u0 * T)) * span - phiS + phiD) / 2;
      rings[i] = sign * phi;
      moved = true;
    }
    sum += phi;
  }
  if (moved) {
    state.phi[c] = (sign * sum) / count;
    if (sign > 0) state.stillAbove[c] = -state.quiet[c]!;
    else state.stillBelow[c] = state.quiet[c]!;
  } else if (sign > 0) state.stillBelow[c] = F;
  else state.stillAbove[c] = F;
}

/** Knee widths that the drive may be away from a class's anchor: there shortExp is exact to 1e-13. */
const ANCHORED = 0.08;
/** Above this e, ln(1 + e) is ln e to the last digit. */
const ALL_ABOVE = 1e16;

/**
 * Half-selected cores stand at nearly the same drive step after step: the powers of each ring are worked out at one
 * drive, the anchor, and carried from there by a short series; full powers of four rings would cost twice as much.
 */
function dropAnchor(classes: CoreClasses, state: CoreState, c: number, drive: number): void {
  const { nearness } = classes;
  state.anchor[c] = drive;
  for (let k = 0, at = 2 * c * nearness.length; k < nearness.length; k++, at += 2) {
    const local = drive * nearness[k]!;
    state.powers[at] = Math.exp((classes.coercive[c]! - local) / classes.kneeWidth[c]!);
    state.powers[at + 1] = Math.exp((local - classes.threshold[c]!) / classes.softWidth[c]!);
  }
}

/** e^x for |x| up to 0.1, by its series. */
const shortExp = (x: number): number =>
  1 + x * (1 + x * (1 / 2 + x * (1 / 6 + x * (1 / 24 + x * (1 / 120 + x * (1 / 720 + x / 5040))))));

/** ln(1 + e) for e > 0; by the series of 2 artanh(e/(2 + e)) where that is exact to rounding and quicker. */
function logOfOneAnd(e: number): number {
  if (e > 0.25) return Math.log(1 + e);
  const z = e / (2 + e);
  const q = z * z;
  const tail = 1 / 7 + q * (1 / 9 + q * (1 / 11 + q * (1 / 13 + q / 15)));
  return 2 * z * (1 + q * (1 / 3 + q * (1 / 5 + q * tail)));
}
