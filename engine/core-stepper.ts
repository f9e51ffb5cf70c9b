import { peakEmf, staticFlux, switchFlux } from './core-model.ts';
import type { CoreClasses } from './core-classes.ts';

/** Inelastic state of every class and what is known of it, so that cores that cannot move cost next to nothing. */
export interface CoreState {
  /** Wb. */
  readonly phi: Float64Array;
  readonly psi: Float64Array;
  /** A: at drives between these two the class is known not to move from its present phi. */
  readonly stillBelow: Float64Array;
  readonly stillAbove: Float64Array;
}

/** Which currents a class sees in the present cycle: factors of X, Y and of the separate inhibit wire. */
export interface DriveFactors {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inhibit: Float64Array;
}

/**
 * Sums over the cores of each section, by role: entry role * stride + section. Flux in Wb as the sense wire links
 * it; slopes in H: of the wire's own current, of X, of Y and of the separate inhibit wire.
 */
export interface SectionSums {
  readonly stride: number;
  readonly flux: Float64Array;
  readonly own: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inhibit: Float64Array;
  /** Linkage of the driven X, Y and separate inhibit line with the cores of this mat, Wb; then sum of bias times linkage, J. */
  readonly line: Float64Array;
  /** Elastic inductance of the lines: xx, yy, xy, H. */
  readonly lineSlope: Float64Array;
}

/** Currents of X, Y and the separate inhibit wire at one instant, A (as they flow, or as the elastic part sees them). */
export interface LineCurrents {
  x: number;
  y: number;
  inhibit: number;
}

export function makeCoreState(classes: CoreClasses): CoreState {
  return {
    phi: classes.phi0.slice(),
    psi: classes.psi0.slice(),
    stillBelow: new Float64Array(classes.size),
    stillAbove: new Float64Array(classes.size),
  };
}

export function makeSums(sections: number): SectionSums {
  const stride = sections + 1;
  const make = (): Float64Array => new Float64Array(3 * stride);
  return {
    stride,
    flux: make(),
    own: make(),
    x: make(),
    y: make(),
    inhibit: make(),
    line: new Float64Array(4),
    lineSlope: new Float64Array(3),
  };
}

/**
 * Advances every class by h at the drive of mid-step and sums its flux and slopes at the predicted end of the step.
 * The main part moves exactly at fixed drive (switchFlux), which with the mid-step drive is second order.
 *
 * @param mid currents at mid-step, `midWire` the wire's current in each section then
 * @param end lagged currents at the end of the step, which drive the elastic part; `endWire` likewise
 * @param gain change of a lagged current per change of the current in this step (1 without lag)
 */
export function advanceCores(
  classes: CoreClasses,
  state: CoreState,
  factors: DriveFactors,
  h: number,
  mid: LineCurrents,
  midWire: Float64Array,
  end: LineCurrents,
  endWire: Float64Array,
  gain: number,
  sums: SectionSums,
): void {
  const { count, section, polarity, role, bias, elasticA, elasticB, bend, psiM } = classes;
  const { phi, psi, stillBelow, stillAbove } = state;
  const { stride, flux, own, x, y, inhibit, line, lineSlope } = sums;
  const fx = factors.x;
  const fy = factors.y;
  const fh = factors.inhibit;
  flux.fill(0);
  own.fill(0);
  x.fill(0);
  y.fill(0);
  inhibit.fill(0);
  let lineX = 0;
  let lineY = 0;
  let lineH = 0;
  let magnets = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (let c = 0; c < classes.size; c++) {
    const k = section[c]!;
    const s = polarity[c]!;
    const ax = fx[c]!;
    const ay = fy[c]!;
    const ah = fh[c]!;
    if (h > 0) {
      const F = ax * mid.x + ay * mid.y + ah * mid.inhibit + s * midWire[k]! + bias[c]!;
      if (F > stillBelow[c]! || F < stillAbove[c]!) movePhi(classes, state, c, F, h);
      if (psiM[c] !== 0) movePsi(classes, psi, c, F, h);
    }
    const F = ax * end.x + ay * end.y + ah * end.inhibit + s * endWire[k]! + bias[c]!;
    const fe = bend[c]!;
    const root = Math.sqrt(F * F + fe * fe);
    const b = elasticB[c]! * phi[c]!;
    const slope = gain * (elasticA[c]! - (b * F) / root);
    const lambda = phi[c]! + psi[c]! + elasticA[c]! * F - b * (root - fe);
    const n = count[c]!;
    const at = role[c]! * stride + k;
    const ns = n * s;
    flux[at]! += ns * lambda;
    magnets += bias[c]! * n * lambda;
    own[at]! += n * slope;
    if (ax !== 0) {
      x[at]! += ns * slope;
      lineX += n * lambda;
      xx += n * slope;
      if (ay !== 0) xy += n * slope;
    }
    if (ay !== 0) {
      y[at]! += ns * slope;
      lineY += n * lambda;
      yy += n * slope;
    }
    if (ah !== 0) {
      inhibit[at]! += ah * ns * slope;
      lineH += ah * n * lambda;
    }
  }
  line[0] = lineX;
  line[1] = lineY;
  line[2] = lineH;
  line[3] = magnets;
  lineSlope[0] = xx;
  lineSlope[1] = yy;
  lineSlope[2] = xy;
}

/** Main part; remembers the drives at which the class is at rest. */
function movePhi(classes: CoreClasses, state: CoreState, c: number, F: number, h: number): void {
  const sign = F < 0 ? -1 : 1;
  const drive = sign * F;
  const phi = sign * state.phi[c]!;
  const phiD = staticFlux(classes.phiR[c]!, classes.coercive[c]!, classes.kneeWidth[c]!, drive);
  if (phi >= phiD) {
    // phi_d rises with the drive: at rest here means at rest at every weaker drive of this sign.
    if (F > 0) state.stillBelow[c] = F;
    else state.stillAbove[c] = F;
    return;
  }
  const vP = peakEmf(classes.rho[c]!, classes.threshold[c]!, classes.softWidth[c]!, drive);
  const next = sign * switchFlux(phi, classes.phiS[c]!, phiD, vP, h);
  state.phi[c] = next;
  // Having moved, it may be free to move back at once.
  if (sign > 0) state.stillAbove[c] = 0;
  else state.stillBelow[c] = 0;
}

function movePsi(classes: CoreClasses, psi: Float64Array, c: number, F: number, h: number): void {
  const excess = Math.abs(F) - classes.decayThreshold[c]!;
  if (excess <= 0) return;
  const target = (Math.sign(F) * classes.psiM[c]!) / 2;
  psi[c] = target + (psi[c]! - target) * Math.exp((-excess * h) / classes.decayCharge[c]!);
}
