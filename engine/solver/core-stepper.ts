import { copyFlux } from '../core/flux-of-cores.ts';
import { softplus } from '../core/model.ts';
import type { CoreClasses } from '../network/core-classes.ts';

/**
 * Inelastic state of every class, what is known of it (so that cores that cannot move cost next to nothing), and the
 * constants of the time loop side by side in one array: the loop is bound by memory, not by arithmetic.
 */
export interface CoreState {
  /** Wb; `rings` side by side for each class, empty where cores switch as one. */
  readonly phi: Float64Array;
  readonly psi: Float64Array;
  readonly rings: Float64Array;
  /** A: at drives between these two the class is known not to move from its present phi. */
  readonly stillBelow: Float64Array;
  readonly stillAbove: Float64Array;
  /** A: below this drive of either sign the class moves slower than STILL_EMF, whatever its state. */
  readonly quiet: Float64Array;
  /**
   * WIDTH numbers a class, in the order of `order`: factors of X, Y, separate inhibit and wire; bias; elastic a and
   * b/phi_r; F_e; count.
   */
  readonly constants: Float64Array;
  /** ln(1 + exp(-F_0/s)) of every class. */
  readonly restingTail: Float64Array;
  /** Runs of classes that share role and section: first class of each run, and one past the last. */
  readonly runs: Int32Array;
  /** Classes run by run; in each run those on a driven line, biased or odd come first. */
  readonly order: Int32Array;
  /** Place in `order` at which the rest of each run starts: its crowd, which answers as one while it stands still. */
  readonly crowdFrom: Int32Array;
  /** CROWD numbers a run (see sumCrowd); the first is the wire current up to which they hold, -1 when out of date. */
  readonly crowd: Float64Array;
  /** A, magnitude of drive at which the `powers` of a class of rings hold; NaN: none yet. */
  readonly anchor: Float64Array;
  /** exp((F_c - F_k)/w) and exp((F_k - F_0)/s) of each ring of each class at its anchor. */
  readonly powers: Float64Array;
}

const CROWD = 8;

const WIDTH = 9;

/** V per turn: a core that would induce less than this is taken to stand still. */
const STILL_EMF = 1e-8;

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
  /** Elastic inductance of the lines: xx, yy, xy, and of X and of Y with the separate inhibit wire, H. */
  readonly lineSlope: Float64Array;
}

/** Currents of X, Y and the separate inhibit wire at one instant, A (as they flow, or as the elastic part sees them). */
export interface LineCurrents {
  x: number;
  y: number;
  inhibit: number;
}

export function makeCoreState(classes: CoreClasses): CoreState {
  const { size, role, section } = classes;
  const starts: number[] = [];
  for (let c = 0; c < size; c++)
    if (c === 0 || role[c] !== role[c - 1] || section[c] !== section[c - 1]) starts.push(c);
  // Far below threshold v_p is less than rho s exp((F - F_0)/s); the innermost ring is the softest.
  const softest = 1 / classes.nearness[0]!;
  const quiet = Float64Array.from(classes.threshold, (f, c) => {
    const s = classes.softWidth[c]!;
    return softest * Math.max(0, f + s * Math.log(STILL_EMF / (classes.rho[c]! * s)));
  });
  return {
    ...{ rings: new Float64Array(0), ...copyFlux(classes.initial) },
    stillBelow: quiet.slice(),
    stillAbove: quiet.map((f) => -f),
    quiet,
    constants: new Float64Array(size * WIDTH),
    restingTail: Float64Array.from(classes.threshold, (f, c) => softplus(-f / classes.softWidth[c]!)),
    runs: Int32Array.from([...starts, size]),
    order: Int32Array.from({ length: size }, (_, c) => c),
    crowdFrom: new Int32Array(starts.length),
    crowd: new Float64Array(starts.length * CROWD),
    anchor: new Float64Array(size).fill(NaN),
    powers: new Float64Array(2 * size * classes.nearness.length),
  };
}

/** Sets which currents the classes see; at the start of every cycle. */
export function setFactors(classes: CoreClasses, state: CoreState, factors: DriveFactors): void {
  const { runs, order, crowdFrom, crowd } = state;
  for (let run = 0; run + 1 < runs.length; run++) {
    crowdFrom[run] = placeRun(classes, factors, order, runs[run]!, runs[run + 1]!);
    crowd[run * CROWD] = -1;
  }
  for (let j = 0; j < classes.size; j++) {
    const c = order[j]!;
    state.constants.set(
      [
        factors.x[c]!,
        factors.y[c]!,
        factors.inhibit[c]!,
        classes.polarity[c]!,
        classes.bias[c]!,
        classes.elasticA[c]!,
        classes.elasticB[c]!,
        classes.bend[c]!,
        classes.count[c]!,
      ],
      j * WIDTH,
    );
  }
}

/** Orders the classes of one run; @returns where its crowd starts: no line, no bias, no decaying part, all alike in bend and inhibit. */
function placeRun(
  classes: CoreClasses,
  factors: DriveFactors,
  order: Int32Array,
  from: number,
  to: number,
): number {
  const plain = (c: number): boolean =>
    factors.x[c] === 0 && factors.y[c] === 0 && classes.bias[c] === 0 && classes.psiM[c] === 0;
  let like = -1;
  const inCrowd = (c: number): boolean => {
    if (!plain(c)) return false;
    if (like < 0) like = c;
    return factors.inhibit[c] === factors.inhibit[like] && classes.bend[c] === classes.bend[like];
  };
  const crowd: number[] = [];
  let at = from;
  for (let c = from; c < to; c++) {
    if (inCrowd(c)) crowd.push(c);
    else order[at++] = c;
  }
  order.set(crowd, at);
  return at;
}

/**
 * Sums the crowd of a run: cores that see nothing but the wire's current F = s i and stand still. With a, b, phi, n
 * of each: linkage sum n s (phi + psi) + i sum n a - g(i) sum n s b phi, and likewise without the s for the inhibit wire.
 */
function sumCrowd(state: CoreState, run: number): void {
  const { runs, order, crowdFrom, constants, phi, psi, stillBelow, stillAbove, crowd } = state;
  const at = run * CROWD;
  crowd.fill(0, at, at + CROWD);
  let bound = Infinity;
  for (let j = crowdFrom[run]!; j < runs[run + 1]!; j++) {
    const c = order[j]!;
    const i = j * WIDTH;
    const s = constants[i + 3]!;
    const a = constants[i + 5]!;
    const b = constants[i + 6]! * phi[c]!;
    const n = constants[i + 8]!;
    const rest = phi[c]! + psi[c]!;
    bound = Math.min(bound, stillBelow[c]!, -stillAbove[c]!);
    crowd[at + 1]! += n * s * rest;
    crowd[at + 2]! += n * a;
    crowd[at + 3]! += n * s * b;
    crowd[at + 4]! += n * rest;
    crowd[at + 5]! += n * s * a;
    crowd[at + 6]! += n * b;
    crowd[at + 7] = constants[i + 7]!;
  }
  crowd[at] = bound;
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
    lineSlope: new Float64Array(5),
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
  h: number,
  mid: LineCurrents,
  midWire: Float64Array,
  end: LineCurrents,
  endWire: Float64Array,
  gain: number,
  sums: SectionSums,
): void {
  const { section, role, psiM } = classes;
  const move = classes.nearness.length === 1 ? movePhi : moveRings;
  const { phi, psi, stillBelow, stillAbove, constants, runs, order, crowdFrom, crowd } = state;
  const { x: midX, y: midY, inhibit: midH } = mid;
  const { x: endX, y: endY, inhibit: endH } = end;
  const inhibited = midH !== 0 || endH !== 0;
  let lineX = 0;
  let lineY = 0;
  let lineH = 0;
  let magnets = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  let xh = 0;
  let yh = 0;
  const last = runs.length - 1;
  for (let run = 0; run < last; run++) {
    const from = runs[run]!;
    const to = runs[run + 1]!;
    const k = section[from]!;
    const wireMid = midWire[k]!;
    const wireEnd = endWire[k]!;
    const slot = role[from]! * sums.stride + k;
    let flux = 0;
    let own = 0;
    let x = 0;
    let y = 0;
    let inhibit = 0;
    // The crowd at once where it stands still; else its cores one by one like the others.
    const rest = crowdFrom[run]!;
    let alone = to;
    const at = run * CROWD;
    const ofCrowd = rest < to ? constants[rest * WIDTH + 2]! : 0;
    if (rest < to && !(inhibited && ofCrowd !== 0)) {
      const moved = Math.abs(wireMid);
      if (crowd[at]! < 0 && moved <= QUIET_WIRE) sumCrowd(state, run);
      if (moved <= crowd[at]!) {
        alone = rest;
        const fe = crowd[at + 7]!;
        const root = Math.sqrt(wireEnd * wireEnd + fe * fe);
        const bent = root - fe;
        const turn = wireEnd / root;
        flux = crowd[at + 1]! + crowd[at + 2]! * wireEnd - crowd[at + 3]! * bent;
        own = gain * (crowd[at + 2]! - crowd[at + 3]! * turn);
        inhibit = ofCrowd * gain * (crowd[at + 5]! - crowd[at + 6]! * turn);
        lineH += ofCrowd * (crowd[at + 4]! + crowd[at + 5]! * wireEnd - crowd[at + 6]! * bent);
      }
    }
    if (alone === to) crowd[at] = -1;
    for (let j = from; j < alone; j++) {
      const c = order[j]!;
      const i = j * WIDTH;
      const ax = constants[i]!;
      const ay = constants[i + 1]!;
      const ah = constants[i + 2]!;
      const s = constants[i + 3]!;
      const bias = constants[i + 4]!;
      if (h > 0) {
        const F = ax * midX + ay * midY + ah * midH + s * wireMid + bias;
        if (F > stillBelow[c]! || F < stillAbove[c]!) move(classes, state, c, F, h);
        if (psiM[c] !== 0) movePsi(classes, psi, c, F, h);
      }
      const F = ax * endX + ay * endY + ah * endH + s * wireEnd + bias;
      const a = constants[i + 5]!;
      const fe = constants[i + 7]!;
      const n = constants[i + 8]!;
      const f = phi[c]!;
      const root = Math.sqrt(F * F + fe * fe);
      const b = constants[i + 6]! * f;
      const slope = n * gain * (a - (b * F) / root);
      const lambda = n * (f + psi[c]! + a * F - b * (root - fe));
      flux += s * lambda;
      own += slope;
      magnets += bias * lambda;
      if (ax !== 0) {
        x += s * slope;
        lineX += lambda;
        xx += slope;
        if (ay !== 0) xy += slope;
      }
      if (ay !== 0) {
        y += s * slope;
        lineY += lambda;
        yy += slope;
      }
      if (ah !== 0) {
        inhibit += ah * s * slope;
        lineH += ah * lambda;
        if (ax !== 0) xh += ah * slope;
        if (ay !== 0) yh += ah * slope;
      }
    }
    sums.flux[slot] = flux;
    sums.own[slot] = own;
    sums.x[slot] = x;
    sums.y[slot] = y;
    sums.inhibit[slot] = inhibit;
  }
  sums.line[0] = lineX;
  sums.line[1] = lineY;
  sums.line[2] = lineH;
  sums.line[3] = magnets;
  sums.lineSlope[0] = xx;
  sums.lineSlope[1] = yy;
  sums.lineSlope[2] = xy;
  sums.lineSlope[3] = xh;
  sums.lineSlope[4] = yh;
}

/** A: a wire current small enough to try whether a run of cores stands still. */
const QUIET_WIRE = 0.02;

/**
 * Main part; remembers the drives at which the class is at rest. The formulas are those of core/model.ts
 * (staticFlux, peakEmf, switchFlux) with what does not change taken out of the loop; a test holds the two together.
 */
function movePhi(classes: CoreClasses, state: CoreState, c: number, F: number, h: number): void {
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

/** The same for a core of rings: each at its own drive, and the class at rest where all of them are. */
function moveRings(classes: CoreClasses, state: CoreState, c: number, F: number, h: number): void {
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

/** tanh, by its series where that is exact to rounding. */
function shortTanh(x: number): number {
  const x2 = x * x;
  return x < 0.02 ? x * (1 - x2 * (1 / 3 - x2 * (2 / 15 - (x2 * 17) / 315))) : Math.tanh(x);
}

function movePsi(classes: CoreClasses, psi: Float64Array, c: number, F: number, h: number): void {
  const excess = Math.abs(F) - classes.decayThreshold[c]!;
  if (excess <= 0) return;
  const target = (Math.sign(F) * classes.psiM[c]!) / 2;
  psi[c] = target + (psi[c]! - target) * Math.exp((-excess * h) / classes.decayCharge[c]!);
}
